package indwell.domain.refusal;

/**
 * One finding about a request, as the caller reads it.
 *
 * @param severity whether the request failed because of it
 * @param code the stable code
 * @param diagnostics one sentence that names the value and what was expected
 * @param expression where in the event ({@code details.balloonFilledMl}); empty for the whole
 */
public record Issue(Severity severity, IssueCode code, String diagnostics, String expression) {

  /** How grave a finding is. */
  public enum Severity {
    ERROR("error"),
    WARNING("warning"),
    INFORMATION("information");

    private final String code;

    Severity(String code) {
      this.code = code;
    }

    /** FHIR's code for it. */
    public String code() {
      return code;
    }
  }

  /** A finding that refuses the request. */
  public static Issue error(IssueCode code, String expression, String diagnostics) {
    return new Issue(Severity.ERROR, code, diagnostics, expression);
  }

  /** A finding that is reported and refuses nothing. */
  public static Issue warning(IssueCode code, String expression, String diagnostics) {
    return new Issue(Severity.WARNING, code, diagnostics, expression);
  }
}
