package indwell.adapter.validation;

import static indwell.adapter.validation.Scene.quoted;

import indwell.adapter.validation.Scene.Told;
import indwell.domain.refusal.Visible;
import indwell.port.ProfileValidator.Rule;
import java.util.List;
import java.util.Optional;
import java.util.regex.MatchResult;

/** Messages about codes: value sets, code systems, units. */
final class CodePhrases {
  private static final int SHOWN = 240;
  private static final String UCUM = "http://unitsofmeasure.org";

  /** Behind the value set stand how strictly it binds, and what was sent. */
  private static final String IN_SET =
      " in the value set '.*' \\((\\S+?)\\), and a cod(?:e|ing) (?:from this value set )?"
          + "(is required|should|is recommended)";

  static final List<Phrase> ALL =
      List.of(
          Phrase.of(
              "None of the codings provided are" + IN_SET + ".* \\(codes = (.*)\\)",
              (m, scene) -> notInSet("None of the codes ", m, 3, scene)),
          Phrase.of(
              "The Coding provided \\((.*?)\\) was not found" + IN_SET + ".*", CodePhrases::coding),
          Phrase.of(
              "The value provided \\('(.*?)'\\) was not found" + IN_SET + ".*", CodePhrases::code),
          Phrase.of("Unknown code '(.*)#(.*)'", CodePhrases::unknown),
          Phrase.of(
              "Error processing unit '(.*)': (.*?)'? at position \\d+ \\(for '.*'\\)",
              (m, scene) ->
                  Told.by(
                      new Rule("code system", UCUM, ""),
                      "Unit %s is no UCUM code (%s); expected one such as mL."
                          .formatted(quoted(m.group(1)), visible(m.group(2))))),
          Phrase.of(
              "Error Cannot invoke .* validating (?:CodeableConcept|Coding|code).*",
              (m, scene) ->
                  new Told(
                      "The code was not checked: its code system is not here.", Optional.empty())),
          Phrase.of(
              "The value set references CodeSystem '(\\S+)' which has status 'not-present'",
              (m, scene) ->
                  Told.by(
                      new Rule("code system", m.group(1), ""),
                      "The codes were not checked: the code system is not here.")));

  private CodePhrases() {}

  private static String visible(String text) {
    return Visible.of(text, SHOWN);
  }

  private static Told coding(MatchResult m, Scene scene) {
    return binding("Code " + visible(m.group(1)), m.group(2), m.group(3), scene);
  }

  private static Told code(MatchResult m, Scene scene) {
    return binding("Code " + quoted(m.group(1)), m.group(2), m.group(3), scene);
  }

  private static Told notInSet(String what, MatchResult m, int codes, Scene scene) {
    String sent = visible(m.group(codes));
    String named = sent.contains(", ") ? what + sent : "Code " + sent;
    return binding(named, m.group(1), m.group(2), scene);
  }

  private static Told binding(String what, String valueSet, String strength, Scene scene) {
    String is = what.startsWith("None ") ? what + " is" : what + " is not";
    String expected =
        scene.codes().ofValueSet(valueSet).orElseGet(() -> "one of value set " + valueSet);
    return new Told(
        is + " in the value set; " + asked(strength) + expected + ".",
        scene
            .ruleAt(
                "binding",
                one -> one.hasBinding() && sameSet(one.getBinding().getValueSet(), valueSet))
            .map(rule -> new Rule(rule.kind(), rule.name() + " to " + valueSet, rule.profile()))
            .or(() -> Optional.of(new Rule("binding", valueSet, ""))));
  }

  private static String asked(String strength) {
    return switch (strength) {
      case "is required" -> "expected ";
      case "should" -> "unless none of it fits, expected ";
      default -> "recommended is ";
    };
  }

  private static boolean sameSet(String bound, String named) {
    return withoutVersion(bound).equals(withoutVersion(named));
  }

  private static String withoutVersion(String canonical) {
    int bar = canonical.indexOf('|');
    return bar < 0 ? canonical : canonical.substring(0, bar);
  }

  private static Told unknown(MatchResult m, Scene scene) {
    return Told.by(
        new Rule("code system", m.group(1), ""),
        "Code %s is not in its code system; expected %s."
            .formatted(
                quoted(m.group(2)),
                scene.codes().ofSystem(m.group(1)).orElseGet(() -> "a code of " + m.group(1))));
  }
}
