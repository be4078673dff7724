package indwell.port;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

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

  /** Does the same for the text of a resource, as the store keeps it. */
  default List<Finding> validate(String json) {
    return validate(json.getBytes(StandardCharsets.UTF_8));
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
   * What demands something: an invariant, a binding, a slice, and the profile that holds it.
   *
   * @param kind what it is, a word or two: {@code invariant}, {@code binding}, {@code cardinality}
   * @param name which one: the key of an invariant, the value set of a binding, the id of an
   *     element
   * @param profile canonical of the definition that states it, with its version; empty when R4 says
   *     so in no single definition, as of JSON itself
   */
  record Rule(String kind, String name, String profile) {
    /** The rule by its name and its home. */
    public String text() {
      return kind + " " + name + (profile.isEmpty() ? "" : " of " + profile);
    }
  }

  /**
   * Where something stands in the text that was validated.
   *
   * @param line from 1
   * @param column from 1
   */
  record Place(int line, int column) {}

  /**
   * One thing that was found.
   *
   * @param code code of FHIR's issue-type, {@code required}
   * @param expression where in the resource, as simple FHIRPath, {@code Procedure.code}
   * @param message a sentence for people: what is wrong and what was expected
   * @param rule what demands it, if it is known
   * @param place where in the text, if it is known
   */
  record Finding(
      Severity severity,
      String code,
      String expression,
      String message,
      Optional<Rule> rule,
      Optional<Place> place) {

    /** A finding without a rule and a place. */
    public Finding(Severity severity, String code, String expression, String message) {
      this(severity, code, expression, message, Optional.empty(), Optional.empty());
    }

    /** Whether the resource is invalid because of this. */
    public boolean isError() {
      return severity == Severity.FATAL || severity == Severity.ERROR;
    }

    /** The sentence, and behind it in brackets the rule that it is about. */
    public String diagnostics() {
      return rule.map(one -> message + " (" + one.text() + ")").orElse(message);
    }

    /** The line by which this finding is compared and printed. */
    public String line() {
      return severity.code() + " | " + expression + " | " + diagnostics();
    }
  }
}
