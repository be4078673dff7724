package indwell.adapter.validation;

import static indwell.adapter.validation.Scene.quoted;

import indwell.adapter.validation.Scene.Told;
import indwell.port.ProfileValidator.Rule;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Messages about the form of a resource: JSON, properties, data types, what is not known. */
final class SyntaxPhrases {
  /** How R4 writes values of a data type. */
  private static final Map<String, String> FORMS =
      Map.of(
          "date", "a date such as 2026-03-01, 2026-03 or 2026",
          "dateTime", "a date, or a time with an offset such as 2026-03-01T08:30:00+01:00",
          "instant", "a time to the second with an offset, such as 2026-03-01T08:30:00+01:00",
          "time", "a time of day such as 08:30:00",
          "integer", "a whole number",
          "decimal", "a decimal number",
          "boolean", "true or false",
          "id", "1 to 64 letters without accents, digits, hyphens and dots");

  static final List<Phrase> ALL =
      List.of(
          Phrase.of(
              "Unrecognized property '(.*)'",
              (m, scene) ->
                  new Told(
                      "Property %s is not known here; expected only those that R4 defines."
                          .formatted(quoted(m.group(1))),
                      scene.ruleOfR4("content"))),
          Phrase.of(
              "Error parsing JSON: the primitive value must be a (\\w+)",
              (m, scene) ->
                  new Told(
                      "The value is of another JSON type; expected a " + m.group(1) + ".",
                      scene.ruleOfR4("type"))),
          Phrase.of(
              "The property (\\S+) must be an? (?:JSON )?(Array|Object), not an? (\\w+)(?: property)? \\(at .*",
              (m, scene) ->
                  new Told(
                      "Property %s is %s; expected %s."
                          .formatted(m.group(1), json(m.group(3)), json(m.group(2))),
                      scene.ruleOfR4("type"))),
          Phrase.of(
              "Object must have some content",
              (m, scene) ->
                  new Told(
                      "The object is empty; expected at least one property in it.",
                      scene.ruleOfR4("content"))),
          Phrase.of("Not a valid date/time format: '(.*)'", (m, s) -> form("dateTime", m.group(1))),
          Phrase.of("Not a valid date format: '(.*)'", (m, s) -> form("date", m.group(1))),
          Phrase.of(
              "Not a valid instant(?: format:)? \\(?'?(.*?)'?\\)?",
              (m, s) -> form("instant", m.group(1))),
          Phrase.of("Not a valid time \\((.*)\\)", (m, s) -> form("time", m.group(1))),
          Phrase.of(
              "The value '(.*)' is not a valid (integer|decimal)",
              (m, s) -> form(m.group(2), m.group(1))),
          Phrase.of(
              "Boolean values must be 'true' or 'false'",
              (m, s) ->
                  Told.by(type("boolean"), "The value is no boolean; expected true or false.")),
          Phrase.of(
              "Invalid Resource id: Invalid Characters \\('(.*)'\\)",
              (m, s) -> form("id", m.group(1))),
          Phrase.of(
              "Invalid Resource id: Too long \\((\\d+) chars\\)",
              (m, s) ->
                  Told.by(
                      type("id"),
                      "The id has " + m.group(1) + " characters; expected at most 64.")),
          Phrase.of(
              "value cannot be empty",
              (m, scene) ->
                  new Told(
                      "The value is empty; expected at least one character.",
                      scene.ruleOfR4("type"))),
          Phrase.of(
              "Element value '(.*)' does not meet (?:\\S+ )?regex '(.*)'",
              (m, scene) ->
                  new Told(
                      "Value %s is malformed; expected text of the form %s."
                          .formatted(quoted(m.group(1)), m.group(2)),
                      scene.ruleOfR4("format"))),
          Phrase.of(
              ".* \\((?:unknown name|unknown or unrecognized resource name) '(.*)'\\)",
              (m, scene) ->
                  new Told(
                      "Resource type %s is not known; expected a resource type of R4."
                          .formatted(quoted(m.group(1))),
                      Optional.empty())),
          Phrase.of(
              "Except for transactions and batches, each entry in a Bundle must have a fullUrl.*",
              (m, scene) ->
                  new Told(
                      "The entry has no fullUrl; expected one, since the Bundle is no transaction or"
                          + " batch.",
                      scene.ruleOfR4("content"))),
          Phrase.of(
              "Unable to resolve resource with reference '(#.*)'",
              (m, scene) ->
                  new Told(
                      "Reference %s leads nowhere; expected the id of a contained resource."
                          .formatted(quoted(m.group(1))),
                      scene.ruleOfR4("content"))),
          Phrase.of(
              "The reference '(.*)' is not a valid reference",
              (m, scene) ->
                  new Told(
                      "Reference %s cannot be read; expected Type/id or an absolute URI."
                          .formatted(quoted(m.group(1))),
                      scene.ruleOfR4("content"))),
          Phrase.of(
              "The syntax of the reference '(.*)' looks incorrect, and it should be checked",
              (m, scene) ->
                  new Told(
                      "Reference %s is of an unusual form; expected Type/id or an absolute URI."
                          .formatted(quoted(m.group(1))),
                      scene.ruleOfR4("content"))),
          Phrase.of(
              "Unable to find resourceType property",
              (m, scene) ->
                  new Told(
                      "The object has no resourceType; expected the name of a resource type of R4.",
                      Optional.empty())),
          Phrase.of(
              "The JSON element '(.*)' has the wrong JSON type: (\\w+)",
              (m, scene) ->
                  new Told(
                      "Property %s is a JSON %s; expected a string."
                          .formatted(m.group(1), m.group(2).toLowerCase(Locale.ROOT)),
                      Optional.empty())),
          Phrase.of(
              "Profile reference '(.*)' has not been checked because it could not be found",
              (m, scene) ->
                  Told.by(
                      new Rule("profile", m.group(1), ""),
                      "Profile %s is claimed but not known here, so the resource was not checked"
                              .formatted(quoted(m.group(1)))
                          + " against it; expected a profile of R4 or of Indwell.")),
          Phrase.of(
              "Unknown extension (.*)",
              (m, scene) ->
                  new Told(
                      "Extension %s is not known here, so its content was not checked."
                          .formatted(quoted(m.group(1))),
                      Optional.empty())),
          Phrase.of(
              "Error generating Snapshot: Access to files is not allowed.*",
              (m, scene) ->
                  new Told(
                      "The profile was not completed, so its completed form was not checked.",
                      Optional.empty())));

  private SyntaxPhrases() {}

  private static Told form(String type, String value) {
    // Of a time that it could not read, the library keeps nothing to tell.
    String which = value.equals("null") ? "The value" : "Value " + quoted(value);
    return Told.by(type(type), which + " is no " + type + "; expected " + FORMS.get(type) + ".");
  }

  private static Rule type(String name) {
    return new Rule("data type", name, BaseDefinitions.BASE + name + "|4.0.1");
  }

  private static String json(String kind) {
    return switch (kind) {
      case "Array" -> "an array";
      case "Object" -> "an object";
      case "Null" -> "null";
      default -> "a single value";
    };
  }
}
