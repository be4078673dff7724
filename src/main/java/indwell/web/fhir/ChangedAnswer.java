package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.port.StoredResource;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The answer to a change of one resource that was made, as the caller prefers it. */
final class ChangedAnswer {
  private ChangedAnswer() {}

  /**
   * The answer with the version that is kept now.
   *
   * @param remarks what is kept otherwise than it was sent, or not at all; told where an outcome is
   *     preferred
   */
  static HttpAnswer of(
      FhirRequest request, int status, StoredResource stored, List<Issue> remarks) {
    Optional<PreferredReturn> preferred = PreferredReturn.of(request);
    HttpAnswer body =
        switch (preferred.orElse(PreferredReturn.REPRESENTATION)) {
          case MINIMAL -> new HttpAnswer(status, FhirAnswers.HEADERS, Buffer.buffer());
          case REPRESENTATION -> FhirAnswers.json(request, stored.json());
          case OUTCOME -> FhirAnswers.json(request, outcome(stored, remarks));
        };
    HttpAnswer answer =
        body.withStatus(status)
            .with("ETag", Versioned.eTag(stored))
            .with("Last-Modified", Versioned.lastModified(stored));
    return preferred.map(one -> one.on(answer)).orElse(answer);
  }

  /** JSON of an OperationOutcome that says what is kept, and what is not. */
  static String outcome(StoredResource stored, List<Issue> remarks) {
    List<Issue> all = new ArrayList<>();
    all.add(
        new Issue(
            Issue.Severity.INFORMATION,
            IssueCode.KEPT,
            stored.key().reference() + " is kept as version " + stored.version() + ".",
            ""));
    all.addAll(remarks);
    return FhirJson.encode(Outcomes.of(all));
  }
}
