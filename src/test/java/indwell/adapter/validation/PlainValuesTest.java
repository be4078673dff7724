package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.regex.Pattern;
import org.hl7.fhir.r5.extensions.ExtensionDefinitions;
import org.hl7.fhir.r5.model.DateTimeType;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Holds what passes at a glance against the forms in R4's own definitions of its types. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PlainValuesTest {
  private static final String TYPES = "http://hl7.org/fhir/StructureDefinition/";

  private static final Map<String, List<String>> RIGHT =
      Map.ofEntries(
          Map.entry("string", List.of("Ward 7", "Grüße", "x")),
          Map.entry("code", List.of("final", "entered-in-error", "wa")),
          Map.entry("id", List.of("a-1.B", "0")),
          Map.entry("uri", List.of("http://unitsofmeasure.org", "kind")),
          Map.entry("url", List.of("https://indwell.example/x")),
          Map.entry("canonical", List.of("http://hl7.org/fhir/ValueSet/x|4.0.1")),
          Map.entry("boolean", List.of("true", "false")),
          Map.entry("integer", List.of("-7", "0", "28")),
          Map.entry("unsignedInt", List.of("0", "28")),
          Map.entry("positiveInt", List.of("1", "28")),
          Map.entry("decimal", List.of("-0.50", "0", "16.25")),
          Map.entry("date", List.of("2026-02-28", "2024-02-29")),
          Map.entry("dateTime", List.of("2026-03-29", "2026-03-29T02:30:00.123+01:00")),
          Map.entry("instant", List.of("2026-03-29T02:30:00Z")));

  @Test
  void the_usual_passes() {
    RIGHT.forEach(
        (type, values) ->
            values.forEach(
                value ->
                    assertThat(PlainValues.isRight(type, value)).as(type + " " + value).isTrue()));
  }

  @Test
  void what_passes_has_the_form_that_R4_gives_for_its_type() {
    Map<String, Pattern> forms = new LinkedHashMap<>();
    RIGHT.keySet().forEach(type -> forms.put(type, form(type)));
    Random random = new Random(20_261_128);
    int passed = 0;
    for (int i = 0; i < 60_000; i++) {
      for (Map.Entry<String, List<String>> one : RIGHT.entrySet()) {
        String value = changed(one.getValue().get(random.nextInt(one.getValue().size())), random);
        if (PlainValues.isRight(one.getKey(), value)) {
          passed++;
          assertThat(value).as(one.getKey()).matches(forms.get(one.getKey()));
          if (one.getKey().equals("date") || one.getKey().equals("dateTime")) {
            // Throws when there is no such day.
            assertThat(new DateTimeType(value).getValue()).isNotNull();
          }
        }
      }
    }
    assertThat(passed).isGreaterThan(100_000);
  }

  @Test
  void days_that_no_month_has_do_not_pass() {
    for (String day : List.of("2026-02-29", "2026-04-31", "2026-02-30", "1899-12-31")) {
      assertThat(PlainValues.isRight("date", day)).as(day).isFalse();
      assertThat(PlainValues.isRight("dateTime", day + "T10:00:00Z")).as(day).isFalse();
    }
  }

  @Test
  void what_the_library_has_rules_of_its_own_for_does_not_pass() {
    assertThat(PlainValues.isRight("string", "<b>x</b>")).isFalse();
    assertThat(PlainValues.isRight("string", " x")).isFalse();
    assertThat(PlainValues.isRight("string", "a\u202Eb")).isFalse();
    assertThat(PlainValues.isRight("uri", "urn:oid:1.2")).isFalse();
    assertThat(PlainValues.isRight("uri", "#x")).isFalse();
    assertThat(PlainValues.isRight("xhtml", "x")).isFalse();
  }

  private static String changed(String value, Random random) {
    StringBuilder changed = new StringBuilder(value);
    for (int i = random.nextInt(3); i > 0; i--) {
      char other = "0123456789-+:.TZ ae<é".charAt(random.nextInt(21));
      switch (random.nextInt(3)) {
        case 0 -> changed.insert(random.nextInt(changed.length() + 1), other);
        case 1 -> changed.setCharAt(random.nextInt(changed.length()), other);
        default -> changed.setLength(Math.max(1, changed.length() - 1));
      }
    }
    return changed.toString();
  }

  /** The regular expression of the definition; source: FHIR R4, StructureDefinitions of types. */
  private static Pattern form(String type) {
    StructureDefinition definition = Cases.definition(TYPES + type);
    for (ElementDefinition element : definition.getSnapshot().getElement()) {
      if (element.getPath().endsWith(".value")) {
        String form = element.getTypeFirstRep().getExtensionString(ExtensionDefinitions.EXT_REGEX);
        return Pattern.compile(form == null ? "(?s).+" : form);
      }
    }
    throw new IllegalStateException(type);
  }
}
