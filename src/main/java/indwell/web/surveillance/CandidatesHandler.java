package indwell.web.surveillance;

import indwell.fhir.map.ResourceId;
import indwell.intake.CandidateAnswerJson;
import indwell.intake.CandidateBodies;
import indwell.intake.CandidateBody;
import indwell.usecase.ReviewCandidates;
import indwell.web.HttpAnswer;
import java.util.List;

/** Answers which urine cultures are candidates for review; reads the store and writes nothing. */
final class CandidatesHandler {
  private final ReviewCandidates candidates;

  CandidatesHandler(ReviewCandidates candidates) {
    this.candidates = candidates;
  }

  HttpAnswer answer(SurveillanceRequest request) {
    if (!request.method().equals("POST")) {
      return SurveillanceAnswers.wrongMethod("POST");
    }
    if (!request.sentAs(SurveillanceAnswers.JSON)) {
      return SurveillanceAnswers.mediaType(SurveillanceAnswers.JSON);
    }
    CandidateBody body = CandidateBodies.read(request.body(), request.now(), candidates.calendar());
    if (body instanceof CandidateBody.Rejected rejected) {
      return SurveillanceAnswers.refused(rejected.status(), rejected.issues());
    }
    CandidateBody.Accepted accepted = (CandidateBody.Accepted) body;
    request.visit().about(ResourceId.patient(accepted.patient()).id());
    return candidates
        .of(accepted.patient(), accepted.question(), request.now())
        .fold(
            answer -> SurveillanceAnswers.json(200, CandidateAnswerJson.object(answer)),
            issue -> SurveillanceAnswers.refused(404, List.of(issue)));
  }
}
