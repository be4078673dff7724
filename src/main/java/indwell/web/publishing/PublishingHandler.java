package indwell.web.publishing;

import indwell.port.AuditEntry;
import indwell.port.StoreUnavailable;
import indwell.usecase.publish.Publishing;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.access.Visit;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Answers requests below {@code /publishing}; waits for the store. */
final class PublishingHandler {
  private static final Pattern ACTION =
      Pattern.compile(
          "/publishing/(?:connection|parked/([A-Za-z]{1,64}/[A-Za-z0-9.-]{1,64}))/(?:\\$|%24)(release|skip)");

  private static final int DONE = 200;

  private final Publishing publishing;

  PublishingHandler(Publishing publishing) {
    this.publishing = publishing;
  }

  /**
   * The answer; whatever goes wrong becomes one.
   *
   * @param foreign whether a browser asks for the page of another service
   * @param visit what the audit trail is told of it
   */
  HttpAnswer answer(String method, String path, boolean foreign, Visit visit) {
    try {
      if (path.equals("/publishing")) {
        return method.equals("GET")
            ? PublishingAnswers.status(publishing.status())
            : PublishingAnswers.wrongMethod("GET, HEAD");
      }
      Matcher action = ACTION.matcher(path);
      if (!action.matches() || (action.group(1) == null && action.group(2).equals("skip"))) {
        return PublishingAnswers.unknownPath();
      }
      if (!method.equals("POST")) {
        return PublishingAnswers.wrongMethod("POST");
      }
      return foreign ? PublishingAnswers.foreign() : act(action, visit);
    } catch (StoreUnavailable away) {
      FaultLog.write("/publishing, the store being away", away);
      return PublishingAnswers.storeAway(away);
    } catch (RuntimeException fault) {
      return PublishingAnswers.fault(FaultLog.write("/publishing", fault));
    }
  }

  private HttpAnswer act(Matcher action, Visit visit) {
    if (!publishing.on()) {
      return PublishingAnswers.off();
    }
    String reference = action.group(1);
    if (!done(action, List.of(visit.row(DONE)))) {
      return PublishingAnswers.notStanding(reference == null ? "The connection" : reference);
    }
    visit.written();
    return PublishingAnswers.status(publishing.status());
  }

  private boolean done(Matcher action, List<AuditEntry> rows) {
    String reference = action.group(1);
    if (reference == null) {
      return publishing.releaseConnection(rows);
    }
    return action.group(2).equals("release")
        ? publishing.release(reference, rows)
        : publishing.skip(reference, rows);
  }
}
