package indwell.adapter.upstream;

import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.OperationOutcome.IssueSeverity;
import org.hl7.fhir.r4.model.OperationOutcome.OperationOutcomeIssueComponent;
import org.hl7.fhir.r4.model.Resource;

/** What an answer means; see the table of outcomes in docs/publishing.md. */
record AnswerReading(UpstreamExchange exchange, Clock clock) {
  private static final Pattern REFERENCE =
      Pattern.compile("\\b[A-Z][A-Za-z]+/[A-Za-z0-9.-]{1,64}\\b");
  private static final Pattern LOCATED =
      Pattern.compile(
          ".*/[A-Z][A-Za-z]+/([A-Za-z0-9.-]{1,64})(?:/_history/([A-Za-z0-9.-]{1,64}))?");
  private static final int MOST_CODES = 5;

  /** An answer that HAPI's client could read. */
  UpstreamAnswer read(Optional<Resource> resource, Optional<OperationOutcome> outcome) {
    if (exchange.status() != 204 && exchange.foreign()) {
      return answer(Kind.NOT_FHIR, List.of("not-fhir"), outcome, Optional.empty());
    }
    Kind kind = outcome.filter(AnswerReading::refuses).isPresent() ? Kind.REFUSED : Kind.TAKEN;
    return answer(kind, codes(outcome), outcome, resource);
  }

  /** An answer with a status beyond 299, or none. */
  UpstreamAnswer refused(Optional<OperationOutcome> outcome) {
    return answer(kind(exchange.status()), codes(outcome), outcome, Optional.empty());
  }

  /** No answer, or the beginning of one. */
  UpstreamAnswer broken() {
    int status = exchange.status();
    boolean unread = status == 0 || status / 100 == 2;
    return answer(
        unread ? Kind.UNKNOWN : kind(status),
        List.of(status == 0 ? "no-answer" : "unreadable"),
        Optional.empty(),
        Optional.empty());
  }

  static Kind kind(int status) {
    return switch (status) {
      case 401 -> Kind.UNAUTHORISED;
      case 404, 410 -> Kind.ABSENT;
      case 409, 412 -> Kind.CONFLICT;
      case 429, 503 -> Kind.BUSY;
      case 0, 408, 425 -> Kind.UNKNOWN;
      // Nothing that is sent again makes a server able to do what it cannot do.
      case 501, 505 -> Kind.REFUSED;
      default ->
          switch (status / 100) {
            case 3 -> Kind.REDIRECTED;
            case 4 -> Kind.REFUSED;
            default -> Kind.UNKNOWN;
          };
    };
  }

  private UpstreamAnswer answer(
      Kind kind,
      List<String> codes,
      Optional<OperationOutcome> outcome,
      Optional<Resource> resource) {
    return new UpstreamAnswer(
        kind,
        exchange.status(),
        codes,
        RetryAfter.of(exchange.header("Retry-After"), exchange.header("Date"), clock),
        named(outcome),
        id(resource),
        version(resource),
        resource);
  }

  /** A server may say yes and mean no. */
  private static boolean refuses(OperationOutcome outcome) {
    return outcome.getIssue().stream()
        .map(OperationOutcomeIssueComponent::getSeverity)
        .anyMatch(one -> one == IssueSeverity.ERROR || one == IssueSeverity.FATAL);
  }

  private static List<String> codes(Optional<OperationOutcome> outcome) {
    List<String> codes = new ArrayList<>();
    for (OperationOutcomeIssueComponent issue :
        outcome.map(OperationOutcome::getIssue).orElse(List.of())) {
      if (issue.hasCode()) {
        codes.add(issue.getCode().toCode());
      }
      CodeableConcept details = issue.getDetails();
      details.getCoding().stream()
          .map(Coding::getCode)
          .flatMap(code -> SafeCode.of(code).stream())
          .forEach(codes::add);
    }
    return codes.stream().distinct().limit(MOST_CODES).toList();
  }

  private static Set<String> named(Optional<OperationOutcome> outcome) {
    Set<String> found = new TreeSet<>();
    for (OperationOutcomeIssueComponent issue :
        outcome.map(OperationOutcome::getIssue).orElse(List.of())) {
      Matcher matcher =
          REFERENCE.matcher(issue.getDiagnostics() + " " + issue.getDetails().getText());
      while (matcher.find()) {
        found.add(matcher.group());
      }
    }
    return found;
  }

  /** By what the server sent back, or by where it says that it has it. */
  private String id(Optional<Resource> resource) {
    return resource
        .map(one -> one.getIdElement().getIdPart())
        .or(() -> located().map(matcher -> matcher.group(1)))
        .orElse("");
  }

  private String version(Optional<Resource> resource) {
    return exchange
        .header("ETag")
        .or(() -> located().map(matcher -> matcher.group(2)).map(AnswerReading::tag))
        .or(() -> resource.map(one -> one.getMeta().getVersionId()).map(AnswerReading::tag))
        .orElse("");
  }

  private static String tag(String version) {
    return "W/\"" + version + "\"";
  }

  private Optional<Matcher> located() {
    return exchange
        .header("Location")
        .or(() -> exchange.header("Content-Location"))
        .map(LOCATED::matcher)
        .filter(Matcher::matches);
  }
}
