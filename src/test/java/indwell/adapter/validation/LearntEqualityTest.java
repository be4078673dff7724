package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import ca.uhn.fhir.validation.FhirValidator;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Holds a validator that has seen a right resource against the library's own module on a copy that
 * is wrong by one thing: what was learnt from the one must not be taken for the other.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LearntEqualityTest {
  private static final String INSERTION = valid("catheter-insertion");
  private static final String SPECIMEN = valid("catheter-specimen");
  private static final String STAY = valid("catheter-stay");
  private static final String BASE = "http://hl7.org/fhir/StructureDefinition/";
  private static final HapiProfileValidator OURS = HapiProfileValidator.open(Cases.FHIR, 1);

  private static FhirValidator stock;

  @BeforeAll
  static void open() {
    stock = StockChain.validator(Cases.FHIR);
  }

  @Test
  void of_the_parts_of_an_extension() {
    for (String[] change :
        List.of(
            new String[] {"\"valueCode\": \"urethral\"", "\"valueCode\": \"nasal\""},
            new String[] {"\"valueCode\": \"urethral\"", "\"valueString\": \"urethral\""},
            new String[] {"\"valueCode\": \"urethral\"", "\"valueCode\": \"ureth ral\""},
            new String[] {"\"url\": \"route\"", "\"url\": \"drainage\""},
            new String[] {"\"url\": \"route\"", "\"url\": \"way\""},
            new String[] {"\"url\": \"route\",", ""},
            new String[] {"\"valueCode\": ", "\"id\": \"x\", \"valueCode\": "},
            new String[] {"\"valuePositiveInt\": 28", "\"valuePositiveInt\": 0"},
            new String[] {"\"valuePositiveInt\": 28", "\"valueInteger\": 28"},
            new String[] {
              "\"valueDateTime\": \"2026-03-02T06", "\"valueDateTime\": \"2026-02-30T06"
            },
            new String[] {"\"valueString\": \"silicone\"", "\"valueString\": \"\""},
            new String[] {"\"value\": 16,", "\"value\": \"16\","},
            new String[] {"\"value\": 16,", ""},
            new String[] {"\"code\": \"[Ch]\"", "\"code\": \"mL\""},
            new String[] {"\"code\": \"hand-hygiene\"", "\"code\": \"hand-waving\""})) {
      differs(INSERTION, change[0], change[1]);
    }
  }

  @Test
  void of_what_an_extension_has_beside_its_parts() {
    String step =
        "\"url\": \""
            + "https://indwell.example/fhir/StructureDefinition/catheter-insertion-step\",";
    differs(INSERTION, step, step + "\"valueBoolean\": true,");
    differs(INSERTION, step, step.replace("\",", "|0.1.0\","));
    differs(INSERTION, step, step.replace("insertion-step", "placement"));
    differs(INSERTION, step, step.replace("insertion-step", "movement"));
    String named =
        INSERTION
            .replace("\"url\": \"route\"", "\"id\": \"a\", \"url\": \"route\"")
            .replace("\"url\": \"drainage\"", "\"id\": \"b\", \"url\": \"drainage\"");
    differs(named, "\"id\": \"b\"", "\"id\": \"a\"");
    differs(SPECIMEN, "catheter-of-specimen", "catheter-specimen-purpose");
    differs(SPECIMEN, "\"Device/d1\"", "\"Device/\"");
    differs(SPECIMEN, "\"Device/d1\"", "\"Patient/d1\"");
    differs(STAY, "\"valueReference\": {", "\"valueReference\": {\"type\": \"Ward\",");
  }

  @Test
  void of_the_element_that_an_extension_is_on() {
    String extension =
        "[{\"url\": \"" + BASE + "humanname-own-prefix\", \"valueString\": \"van\"}]";
    String patient =
        """
        {"resourceType": "Patient", "name": [{"family": "x", "_family": {"extension": %s},
         "given": ["y"]}]}
        """
            .formatted(extension);
    same(patient);
    differs(
        patient,
        "\"given\": [\"y\"]",
        "\"given\": [\"y\"], \"_given\": [{\"extension\": " + extension + "}]");
    differs(
        patient,
        "\"name\"",
        "\"address\": [{\"_city\": {\"extension\": " + extension + "}}], \"name\"");
  }

  @Test
  void of_what_a_reference_in_an_identifier_leads_to() {
    String patient =
        """
        {"resourceType": "Patient", "contained": [{"resourceType": "Organization", "id": "o",
         "name": "x"}],
         "identifier": [{"system": "http://one.example/x", "value": "1",
         "assigner": {"reference": "#o"}}]}
        """;
    same(patient);
    differs(patient, "\"id\": \"o\"", "\"id\": \"p\"");
  }

  @Test
  void of_a_code_that_another_profile_warned_of() {
    String item = valid("catheter-care-item");
    same(item);
    String claimed = "\"profile\": [\n";
    assertThat(item).contains(claimed);
    for (String other : List.of("vitalsigns", "Observation", "bodyweight")) {
      same(item.replace(claimed, claimed + "\"" + BASE + other + "\",\n"));
    }
  }

  private static String valid(String name) {
    byte[] json = Cases.bytes(Cases.VALID.resolve(name + ".json"));
    return new String(json, StandardCharsets.UTF_8);
  }

  /** The copy is wrong, and both say so in the same words. */
  private static void differs(String right, String from, String to) {
    same(right);
    assertThat(right).contains(from);
    String wrong = right.replace(from, to);
    Set<String> said = same(wrong);
    assertThat(said).as(to).isNotEqualTo(said(right));
  }

  private static Set<String> same(String resource) {
    Set<String> byStock = Verdicts.ofStock(stock, resource.getBytes(StandardCharsets.UTF_8));
    // What is learnt the first time is used the second time.
    for (int i = 0; i < 2; i++) {
      assertThat(said(resource)).as(resource).isEqualTo(byStock);
    }
    return byStock;
  }

  private static Set<String> said(String resource) {
    return Verdicts.ofOurs(OURS, resource.getBytes(StandardCharsets.UTF_8));
  }
}
