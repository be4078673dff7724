package indwell.adapter.validation;

import static indwell.adapter.validation.Scene.quoted;

import indwell.adapter.validation.Scene.Told;
import indwell.port.ProfileValidator.Rule;
import java.util.List;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.hl7.fhir.r5.model.CodeableConcept;
import org.hl7.fhir.r5.model.Coding;
import org.hl7.fhir.r5.model.DataType;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.PrimitiveType;

/** Messages about what a profile demands: invariants, cardinalities, slices, values, types. */
final class ProfilePhrases {
  private static final Pattern WRONG_CODE = Pattern.compile("Value is '([^']*)' but is fixed to");

  static final List<Phrase> ALL =
      List.of(
          Phrase.of(
              "Constraint failed: (\\S+?): '(.*?)'(?: \\(defined in \\S+\\))?(?: \\(.*)?",
              ProfilePhrases::invariant),
          Phrase.of(
              "(\\S+): minimum required = (\\d+), but only found (\\d+) \\(from (\\S+)\\)",
              (m, scene) ->
                  cardinality(
                      m,
                      m.group(3).equals("0") ? " is missing" : times(m.group(3)),
                      "at least " + m.group(2))),
          Phrase.of(
              "(\\S+): max allowed = (\\d+), but found (\\d+) \\(from (\\S+)\\)",
              (m, scene) ->
                  cardinality(
                      m,
                      times(m.group(3)),
                      m.group(2).equals("0") ? "none" : "at most " + m.group(2))),
          Phrase.of(
              "Slice '(\\S+?)'(?: for extension '\\S+')?: a matching slice is required, but not"
                  + " found \\(from (\\S+?)\\)\\..*",
              ProfilePhrases::slice),
          Phrase.of(
              "Value is '(.*)' but is fixed to '(.*)' in the profile (\\S+?)#(\\S+)",
              (m, scene) ->
                  Told.by(
                      new Rule("fixed value", m.group(4), m.group(3)),
                      "Value %s is not allowed here; expected %s."
                          .formatted(quoted(m.group(1)), quoted(m.group(2))))),
          Phrase.of(
              "The (pattern|fixed value) \\[system (\\S+), code (\\S+), (?:and )?display '.*'.*] defined"
                  + " in the profile (\\S+) not found\\. Issues: (.*)",
              ProfilePhrases::coding),
          Phrase.of("Expected (\\d+) but found (\\d+) coding elements", ProfilePhrases::codings),
          Phrase.of(
              "The Profile '(\\S+)' definition allows for the types? (.+) but found type (\\S+)",
              (m, scene) ->
                  new Told(
                      "The value is of type %s; expected %s.".formatted(m.group(3), m.group(2)),
                      scene.ruleAt("type", one -> one.hasType()))),
          Phrase.of(
              "Specified (?:profile )?type was '(.*)' in profile '(\\S+)', but found type '(.*)'",
              (m, scene) ->
                  Told.by(
                      new Rule("type", m.group(1), m.group(2)),
                      "The profile is for %s, but the resource is a %s; expected a %s."
                          .formatted(m.group(1), m.group(3), m.group(1)))),
          Phrase.of(
              "The type '(\\w+)' implied by the reference URL (.*) is not a valid Target for this"
                  + " element \\(must be one of \\[(.*)]\\)",
              (m, scene) ->
                  new Told(
                      "Reference %s is to a resource of type %s; expected one to %s."
                          .formatted(
                              quoted(m.group(2)), m.group(1), m.group(3).replace(", ", " or ")),
                      scene.ruleAt("target", ProfilePhrases::hasTarget))),
          Phrase.of(
              "This element is not allowed by the profile (\\S+)",
              (m, scene) ->
                  new Told(
                      "The element is there; expected none of it.",
                      scene.ruleAt("cardinality", one -> "0".equals(one.getMax())))),
          Phrase.of(
              "This element does not match any known slice defined in the profile (\\S+) \\(.*",
              (m, scene) ->
                  Told.by(
                      new Rule("slices", scene.location().paths().get(0), m.group(1)),
                      "The entry is none of the slices; it is allowed, unless it was meant for"
                          + " one.")));

  private ProfilePhrases() {}

  private static boolean hasTarget(ElementDefinition one) {
    return one.getType().stream().anyMatch(type -> type.hasTargetProfile());
  }

  private static String times(String count) {
    return count.equals("1") ? " is there once" : " is there " + count + " times";
  }

  private static Told cardinality(MatchResult m, String is, String expected) {
    return Told.by(
        new Rule("cardinality", m.group(1), m.group(4)),
        m.group(1) + is + "; expected " + expected + ".");
  }

  private static Told invariant(MatchResult m, Scene scene) {
    String human = m.group(2);
    return Told.by(
        new Rule("invariant", m.group(1), scene.elements().withVersion(scene.statedIn())),
        "Invariant %s does not hold; expected: %s%s"
            .formatted(m.group(1), human, human.endsWith(".") ? "" : "."));
  }

  private static Told slice(MatchResult m, Scene scene) {
    String id = m.group(1);
    int colon = id.lastIndexOf(':');
    String what =
        scene.elements().below(m.group(2), id).stream()
            .flatMap(one -> demanded(one).stream().map(value -> named(one, id) + " = " + value))
            .findFirst()
            .map(demand -> "one with " + demand)
            .orElse("one");
    return Told.by(
        new Rule("slice", id, m.group(2)),
        "Slice %s of %s is missing; expected %s."
            .formatted(id.substring(colon + 1), id.substring(0, colon), what));
  }

  private static String named(ElementDefinition element, String slice) {
    return element.getId().equals(slice) ? "it" : element.getId().substring(slice.length() + 1);
  }

  private static Optional<String> demanded(ElementDefinition element) {
    return Optional.ofNullable(element.hasFixed() ? element.getFixed() : element.getPattern())
        .map(ProfilePhrases::shown);
  }

  private static String shown(DataType value) {
    if (value instanceof PrimitiveType<?> primitive) {
      return primitive.asStringValue();
    }
    if (value instanceof CodeableConcept concept) {
      return concept.getCoding().stream()
          .map(ProfilePhrases::shownCoding)
          .collect(Collectors.joining(" and "));
    }
    return value instanceof Coding coding ? shownCoding(coding) : value.fhirType();
  }

  private static String shownCoding(Coding coding) {
    return coding.getSystem() + "#" + coding.getCode();
  }

  private static Told coding(MatchResult m, Scene scene) {
    List<String> found =
        WRONG_CODE.matcher(m.group(5)).results().map(one -> quoted(one.group(1))).toList();
    String is =
        found.isEmpty()
            ? "No coding is the one asked for"
            : "Code " + String.join(", ", found) + " is not the one asked for";
    return new Told(
        is + "; expected " + m.group(2) + "#" + m.group(3) + ".",
        scene
            .ruleAt(m.group(1), one -> one.hasPattern() || one.hasFixed())
            .or(() -> Optional.of(new Rule(m.group(1), m.group(3), m.group(4)))));
  }

  private static Told codings(MatchResult m, Scene scene) {
    String expected =
        scene
            .elements()
            .at(scene.location(), one -> one.hasPattern())
            .map(found -> "all of " + shown(found.element().getPattern()))
            .orElse(m.group(1) + " codings");
    return new Told(
        "Of the codings asked for, %s of %s is there; expected %s."
            .formatted(m.group(2), m.group(1), expected),
        scene.ruleAt("pattern", one -> one.hasPattern()));
  }
}
