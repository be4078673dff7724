package indwell.port;

import java.util.List;
import java.util.Locale;

/**
 * Says what is wrong with a FHIR R4 resource, by R4 itself and by the profiles that it claims or is
 * asked to meet. Works without any network.
 *
 * <p>Implementations are safe for use by many threads.
 */
public interface ProfileValidator {

  /**
   * Validates against R4 and against every profile in {@code meta.profile}.
   *
   * @param json one resource as UTF-8 JSON, exactly as it is stored or was sent
   * @return the findings in the order of the document; the same bytes always give the same list
   */
  default List<Finding> validate(byte[] json) {
    return validate(json, List.of());
  }

  /**
   * Validates against further profiles as well.
   *
   * @param profiles canonical URLs, {@code |version} optional; one that is unknown is an error in
   *     the answer, never passed over
   */
  List<Finding> validate(byte[] json, List<String> profiles);

  /** Whether a profile with that canonical URL can be validated against. */
  boolean knows(String profile);

  /** Whether it validates at full speed; until then it may keep its callers waiting. */
  default boolean ready() {
    return true;
  }

  /** How grave a finding is, worst first. */
  enum Severity {
    FATAL,
    ERROR,
    WARNING,
    INFORMATION;

    /** The code of FHIR's issue-severity. */
    public String code() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * One thing that was found.
   *
   * @param code code of FHIR's issue-type, {@code required}
   * @param expression where in the resource, as simple FHIRPath, {@code Procedure.code}
   * @param message a sentence for people
   */
  record Finding(Severity severity, String code, String expression, String message) {
    /** Whether the resource is invalid because of this. */
    public boolean isError() {
      return severity == Severity.FATAL || severity == Severity.ERROR;
    }

    /** The line by which this finding is compared and printed. */
    public String line() {
      return severity.code() + " | " + expression + " | " + message;
    }
  }
}
