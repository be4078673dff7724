package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Map;
import org.hl7.fhir.r4.model.Resource;

/**
 * Makes answers of resources. Every one of them may name a patient, so none may be kept by a cache.
 */
final class FhirAnswers {
  static final Map<String, String> HEADERS =
      Map.of("Cache-Control", "no-store", "X-Content-Type-Options", "nosniff");

  private FhirAnswers() {}

  /** A body in a media type. */
  static HttpAnswer of(int status, String mediaType, Buffer body) {
    return new HttpAnswer(status, HEADERS, body).with("Content-Type", mediaType);
  }

  /** Text of a resource, in the media type that the request asks for. */
  static HttpAnswer json(FhirRequest request, String json) {
    return of(200, request.format(), Buffer.buffer(json));
  }

  /** A resource, in the media type that the request asks for. */
  static HttpAnswer resource(FhirRequest request, Resource resource) {
    return json(request, FhirJson.encode(resource));
  }

  /** An error; an OperationOutcome whatever was asked for. */
  static HttpAnswer outcome(int status, List<Issue> issues) {
    HttpAnswer answer =
        of(status, Negotiation.FHIR_JSON, Buffer.buffer(FhirJson.encode(Outcomes.of(issues))))
            .because(issues);
    return status == 429 || status == 503 ? answer.with("Retry-After", "1") : answer;
  }

  static HttpAnswer outcome(int status, IssueCode code, String sentence) {
    return outcome(status, List.of(Issue.error(code, "", sentence)));
  }
}
