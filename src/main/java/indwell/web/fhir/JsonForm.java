package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonToken;
import indwell.domain.refusal.IssueCode;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Holds a body to the form that a resource type has in R4: what is not known, or is of another kind
 * of JSON, is refused and never passed over, since a caller meant something by it.
 *
 * <p>Source: https://hl7.org/fhir/R4/json.html
 *
 * @param code what a body of another form is refused with
 */
record JsonForm(IssueCode code) {
  /** What every resource may have, apart from its content. */
  private static final Set<String> OF_ALL =
      Set.of("resourceType", "_id", "_implicitRules", "_language");

  /**
   * Refuses an element by its name.
   *
   * @param known the names that have a place there
   * @param at where it stands
   */
  void requireKnown(Set<String> known, String name, String at) {
    if (!known.contains(name)) {
      List<String> names = known.stream().filter(JsonForm::isWorthNaming).sorted().toList();
      throw FhirRefusal.of(
          400,
          code,
          at,
          "Element "
              + Shown.text(name)
              + " has no place here; expected "
              + String.join(", ", names.subList(0, names.size() - 1))
              + " or "
              + names.get(names.size() - 1)
              + ".");
    }
  }

  private static boolean isWorthNaming(String name) {
    return !name.startsWith("_") && !name.equals("resourceType");
  }

  /** The names that a resource may have at its root. */
  static Set<String> root(String... own) {
    return Stream.concat(
            Stream.concat(OF_ALL.stream(), Stream.of("id", "meta", "implicitRules", "language")),
            Stream.of(own))
        .collect(Collectors.toUnmodifiableSet());
  }

  /** Refuses an element whose value is of another kind. */
  void requireElement(String name, JsonToken expected, JsonToken found, String at) {
    require("Element " + Shown.text(name), expected, found, at + "." + name);
  }

  /**
   * Refuses a value of another kind; both booleans are one, and so are all numbers.
   *
   * @param what its name in the sentence
   */
  void require(String what, JsonToken expected, JsonToken found, String at) {
    if (!kind(found).equals(kind(expected))) {
      throw FhirRefusal.of(
          400, code, at, what + " is " + kind(found) + "; expected " + kind(expected) + ".");
    }
  }

  private static String kind(JsonToken token) {
    return switch (token) {
      case START_OBJECT -> "an object";
      case START_ARRAY -> "an array";
      case VALUE_STRING -> "a text";
      case VALUE_TRUE, VALUE_FALSE -> "a boolean";
      case VALUE_NULL -> "null";
      default -> "a number";
    };
  }
}
