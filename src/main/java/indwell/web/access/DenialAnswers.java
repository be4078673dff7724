package indwell.web.access;

import indwell.domain.refusal.Issue;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.intake.FactsResult;
import indwell.intake.FactsResultJson;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.List;

/** A denial in the shape that errors have at an address. */
public final class DenialAnswers {
  private DenialAnswers() {}

  /** The answer; 429 and 503 say when to come again. */
  public static HttpAnswer at(String path, Denial denial) {
    HttpAnswer answer =
        denial
            .on(shaped(path, denial))
            .with("Cache-Control", "no-store")
            .because(List.of(denial.issue()));
    return denial.status() == 503 || denial.status() == 429
        ? answer.with("Retry-After", "1")
        : answer;
  }

  private static HttpAnswer shaped(String path, Denial denial) {
    Issue issue = denial.issue();
    return switch (Area.place(path)) {
      case FHIR ->
          HttpAnswer.of(
              denial.status(),
              "application/fhir+json",
              Buffer.buffer(FhirJson.encode(Outcomes.of(List.of(issue)))));
      case EVENTS -> json(denial.status(), EventResultJson.object(result(denial)));
      case SURVEILLANCE, PUBLISHING -> json(denial.status(), FactsResultJson.object(facts(denial)));
      case OPEN, METRICS, PAGES ->
          HttpAnswer.of(
              denial.status(),
              "text/plain; charset=utf-8",
              Buffer.buffer(issue.code().code() + ": " + issue.diagnostics() + "\n"));
    };
  }

  /** What may be sent again as it is was not refused for what it says (contract, section 2). */
  private static EventResult result(Denial denial) {
    return denial.status() == 503 || denial.status() == 408
        ? EventResult.failed(denial.issue())
        : EventResult.refused(denial.issue());
  }

  private static FactsResult facts(Denial denial) {
    return denial.status() == 503 || denial.status() == 408
        ? FactsResult.failed(denial.issue())
        : FactsResult.refused(List.of(denial.issue()));
  }

  private static HttpAnswer json(int status, byte[] body) {
    return HttpAnswer.of(status, "application/json", Buffer.buffer(body));
  }
}
