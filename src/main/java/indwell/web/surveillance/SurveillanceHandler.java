package indwell.web.surveillance;

import indwell.port.StoreUnavailable;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import java.util.List;

/** Answers requests below {@code /surveillance}; waits for the store. */
final class SurveillanceHandler {
  /** The one segment of the path of candidates. */
  static final String CANDIDATES = "candidates";

  private final FactsHandler facts;
  private final CandidatesHandler candidates;

  SurveillanceHandler(FactsHandler facts, CandidatesHandler candidates) {
    this.facts = facts;
    this.candidates = candidates;
  }

  /** The answer; whatever goes wrong becomes one. */
  HttpAnswer answer(SurveillanceRequest request) {
    try {
      return request.path().equals(List.of(CANDIDATES))
          ? candidates.answer(request)
          : facts.answer(request);
    } catch (StoreUnavailable away) {
      FaultLog.write("/surveillance, the store being away", away);
      return SurveillanceAnswers.storeAway(away);
    } catch (RuntimeException fault) {
      return SurveillanceAnswers.fault(FaultLog.write("/surveillance", fault));
    }
  }
}
