package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.WardMonth;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads facts sent as one object, or as an array of them; taken whole or refused whole. */
public final class FactsBodies {
  /** Bytes of a body. */
  public static final int MAX_BYTES = 4 * 1024 * 1024;

  /** Elements of an array, and rows of a table. */
  public static final int MAX_FACTS = 10_000;

  private static final int MAX_ELEMENT_BYTES = 64 * 1024;
  private static final int MAX_DEPTH = 32;

  static final GateLimits OBJECT =
      new GateLimits(
          MAX_DEPTH, MAX_ELEMENT_BYTES, MAX_ELEMENT_BYTES, Integer.MAX_VALUE, MAX_ELEMENT_BYTES);

  private static final GateLimits ARRAY =
      new GateLimits(MAX_DEPTH, MAX_DEPTH, MAX_ELEMENT_BYTES, MAX_FACTS, MAX_ELEMENT_BYTES);

  private FactsBodies() {}

  /** Reads the ward and month of an address; refused when either cannot be one. */
  public static FactsReading address(String ward, String month) {
    return FactsReader.read(
        Map.of(FactsField.WARD.json(), ward, FactsField.MONTH.json(), month),
        List.of(),
        FactsField::json,
        Optional.empty(),
        LocalDate.MAX);
  }

  /**
   * Reads the facts of the ward and month that the address names.
   *
   * @param today the facility's date
   */
  public static FactsBody object(byte[] body, WardMonth place, LocalDate today) {
    if (body.length > MAX_ELEMENT_BYTES) {
      return rejected(413, EventBodies.tooManyBytes(MAX_ELEMENT_BYTES));
    }
    Optional<Issue> early = monthFault(place, today);
    if (early.isPresent()) {
      return rejected(422, early.get());
    }
    GateResult result = JsonGate.read(body, OBJECT);
    if (result instanceof GateResult.Stopped stopped) {
      return stopped(stopped);
    }
    GateResult.Tree tree = (GateResult.Tree) result;
    if (!(tree.root() instanceof Map<?, ?> fields)) {
      return notABody(tree.root(), "an object");
    }
    FactsReading reading =
        FactsReader.read(fields, tree.findings(), FactsField::json, Optional.of(place), today);
    return reading instanceof FactsReading.Accepted accepted
        ? new FactsBody.Accepted(List.of(accepted))
        : refused(((FactsReading.Refused) reading).issues());
  }

  private static Optional<Issue> monthFault(WardMonth place, LocalDate today) {
    return FactsReader.monthFault(place.month(), today)
        .map(sentence -> Issue.error(IssueCode.MONTH_OUT_OF_RANGE, "", sentence));
  }

  /** Reads an array; each element names its ward and month. */
  public static FactsBody array(byte[] body, LocalDate today) {
    List<FactsReading.Accepted> taken = new ArrayList<>();
    FactsIssues issues = new FactsIssues();
    int[] index = {0};
    GateResult result =
        JsonGate.read(
            body, ARRAY, element -> take(element, "[" + index[0]++ + "]", today, taken, issues));
    if (result instanceof GateResult.Stopped stopped) {
      return stopped(stopped);
    }
    if (!(((GateResult.Tree) result).root() instanceof List)) {
      return notABody(((GateResult.Tree) result).root(), "an array of objects");
    }
    return issues.any() ? refused(issues.all()) : new FactsBody.Accepted(taken);
  }

  private static void take(
      JsonGate.Element element,
      String place,
      LocalDate today,
      List<FactsReading.Accepted> taken,
      FactsIssues issues) {
    if (!(element.value() instanceof Map<?, ?> fields)) {
      issues.add(
          element.findings().isEmpty()
              ? List.of(notAnObject(element.value()))
              : element.findings().stream().map(GateFinding::issue).toList(),
          issue -> place);
      return;
    }
    FactsReading reading =
        FactsReader.read(fields, element.findings(), FactsField::json, Optional.empty(), today);
    if (reading instanceof FactsReading.Accepted accepted) {
      issues.requireNew(accepted.month(), place);
      taken.add(accepted);
    } else {
      issues.add(
          ((FactsReading.Refused) reading).issues(),
          issue -> issue.expression().isEmpty() ? place : place + "." + issue.expression());
    }
  }

  private static Issue notAnObject(Object value) {
    return Issue.error(
        IssueCode.NOT_AN_OBJECT,
        "",
        "The element is " + Quoted.value(value) + "; expected an object.");
  }

  private static FactsBody notABody(Object root, String expected) {
    return rejected(
        400,
        Issue.error(
            IssueCode.NOT_A_FACTS_BODY,
            "",
            "The body is " + Quoted.value(root) + "; expected " + expected + "."));
  }

  private static FactsBody stopped(GateResult.Stopped stopped) {
    return rejected(
        stopped.code() == IssueCode.TOO_MANY_EVENTS ? 413 : 400,
        Issue.error(stopped.code(), "", stopped.sentence()));
  }

  static FactsBody rejected(int status, Issue issue) {
    return new FactsBody.Rejected(status, List.of(issue));
  }

  static FactsBody refused(List<Issue> issues) {
    return new FactsBody.Rejected(status(issues), issues);
  }

  /** 400 for a name that stands twice, as with events; 422 for the rest. */
  static int status(List<Issue> issues) {
    return issues.stream().anyMatch(one -> one.code() == IssueCode.DUPLICATE_NAME) ? 400 : 422;
  }
}
