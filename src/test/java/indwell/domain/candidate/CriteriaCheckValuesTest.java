package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.candidate.Temperature.Unit;
import java.math.BigDecimal;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * CRIT-1 to CRIT-5. Sources: NHSN manual chapter 7, Table 1 (restated, Taiwan CDC); CDC, NHSN FAQs:
 * UTI (CRIT-3; published); IDWeek 2016, abstract 401 (CRIT-4; published); the truth table is
 * derived from rules U1, U2, U4, U5, U9 to U11.
 *
 * <p>Rules CULTURE-1, FEVER-1, SUTI-1A, SUTI-1B and ABUTI-1.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CriteriaCheckValuesTest {
  private static final String BACTERIUM = "Escherichia coli bacterium 100000";

  @ParameterizedTest(name = "{0}: {1} {2}, fever {3}")
  @CsvSource({
    "CRIT-1, 38.0, CELSIUS, false",
    "CRIT-1, 100.4, FAHRENHEIT, false",
    "CRIT-2, 38.1, CELSIUS, true",
    "CRIT-2, 100.5, FAHRENHEIT, true",
    // Compared by value: neither digits nor their number make a fever.
    "exact, 38, CELSIUS, false",
    "exact, 38.000, CELSIUS, false",
    "exact, 38.0001, CELSIUS, true",
    "exact, 100.40, FAHRENHEIT, false",
    "exact, 100.41, FAHRENHEIT, true"
  })
  void fever(String row, BigDecimal value, Unit unit, boolean fever) {
    assertThat(new Temperature(value, unit).isFever()).isEqualTo(fever);
  }

  @ParameterizedTest(name = "{0}: {1}")
  @CsvSource({
    "CRIT-3, Escherichia coli bacterium 75000-100000",
    "CRIT-4, Candida albicans candida 100000",
    "CRIT-4, Candida albicans candida >=100000"
  })
  void not_usable(String row, String growth) {
    UrineCulture culture = CandidateSentence.of("culture 06-05 " + growth).cultures().get(0);
    assertThat(UsableCulture.pathogens(culture).value()).isEmpty();
  }

  /** Age 70, catheter day 5 in place on the date of event, unless said. */
  @ParameterizedTest(name = "CRIT-5, {0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "T1  | temperature 06-05 38.0 Cel                      | none",
        "T2  | temperature 06-05 38.1 Cel                      | SUTI-1a catheter",
        "T3  | dysuria 06-05                                   | none",
        "T7  | blood 06-05 Escherichia coli bacterium          | ABUTI catheter",
      })
  void truth_table_of_symptoms(String row, String finding, String result) {
    assertThat(Patient.catheterised().result("aged 70; " + finding + "; culture 06-05"))
        .isEqualTo(result);
  }

  @ParameterizedTest(name = "CRIT-5, {0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "T8  | Candida albicans candida 100000                           | none",
        "T9  | " + BACTERIUM + " + Candida albicans candida              | SUTI-1a catheter",
        "T10 | "
            + BACTERIUM
            + " + Klebsiella oxytoca bacterium 10000 + Enterococcus faecalis bacterium 1000 | none",
        "T11 | Escherichia coli bacterium 90000                          | none"
      })
  void truth_table_of_cultures(String row, String growth, String result) {
    assertThat(
            Patient.catheterised()
                .result("aged 70; temperature 06-05 38.5 Cel; culture 06-05 " + growth))
        .isEqualTo(result);
  }

  @Test
  @DisplayName("CRIT-5, T4: dysuria the day after the removal: SUTI 1a, candidate for CAUTI")
  void dysuria_the_day_after_the_removal() {
    Patient patient =
        Patient.of(
            """
            06-01 07:00 admitted W1
            06-01 08:00 inserted c1
            06-05 10:00 removed c1
            """);

    assertThat(patient.result("aged 70; dysuria 06-06; culture 06-06"))
        .isEqualTo("SUTI-1a catheter");
    assertThat(patient.result("aged 70; dysuria 06-05; culture 06-06")).isEqualTo("none");
  }

  @ParameterizedTest(name = "CRIT-5, {0}: fever on catheter day 2, age {1}: {2}")
  @CsvSource({"T5, 70, none", "T5, 66, none", "T6, 65, SUTI-1b"})
  void fever_on_catheter_day_two(String row, int age, String result) {
    Patient patient = Patient.of("06-01 07:00 admitted W1\n06-04 08:00 inserted c1");

    assertThat(patient.result("aged " + age + "; temperature 06-05 38.5 Cel; culture 06-05"))
        .isEqualTo(result);
  }
}
