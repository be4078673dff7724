package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is said of elements and steps; rules SYMPTOM-1, FEVER-1, ABUTI-1 and REPEAT-1 decide. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FindingsSaidTest {

  @ParameterizedTest(name = "{0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "temperature 06-05 38.6 Cel | fever | Fever (38.6 Cel) on 2024-06-05, within the window.",
        "temperature 06-05 100.5 [degF] | fever"
            + " | Fever (100.5 [degF]) on 2024-06-05, within the window.",
        "temperature 06-05 38.0 Cel | fever | No temperature within the window shows fever.",
        "temperature 06-01 38.0 Cel | fever | No fever is told of.",
        "temperature 06-01 38.1 Cel | fever"
            + " | Fever (38.1 Cel) on 2024-06-01 lies outside the window of 2024-06-02 to"
            + " 2024-06-08.",
        "dysuria 06-05 | fever | No fever is told of.",
        "temperature 06-05 38.0 Cel | dysuria | No dysuria is told of.",
        "dysuria 06-05 | dysuria"
            + " | Dysuria on 2024-06-05 cannot be used: a catheter was in place on that date.",
        "suprapubic-tenderness 06-05 with other cause | suprapubic-tenderness"
            + " | Suprapubic tenderness on 2024-06-05 is set aside: another cause is recognised."
      })
  void of_a_symptom(String given, String symptom, String sentence) {
    Assessment said = Patient.catheterised().assess(given + "; culture 06-05");

    assertThat(element(said, Criterion.SUTI_1A, symptom).trace().finding()).isEqualTo(sentence);
  }

  @Test
  void the_rule_of_a_temperature_is_not_that_of_a_symptom() {
    Assessment said = Patient.catheterised().assess("culture 06-05");

    assertThat(element(said, Criterion.SUTI_1A, "fever").trace().rule()).isEqualTo(RuleId.FEVER_1);
    assertThat(element(said, Criterion.SUTI_2, "hypothermia").trace().rule())
        .isEqualTo(RuleId.FEVER_1);
    assertThat(element(said, Criterion.SUTI_1A, "urgency").trace().rule())
        .isEqualTo(RuleId.SYMPTOM_1);
  }

  @Test
  void only_what_a_catheter_bars_names_the_catheter() {
    Assessment said =
        Patient.catheterised()
            .assess("culture 06-05; dysuria 06-05; costovertebral-pain 06-05 with other cause");

    assertThat(element(said, Criterion.SUTI_1A, "dysuria").trace().facts()).hasSize(1);
    assertThat(element(said, Criterion.SUTI_1A, "costovertebral-pain").trace().facts()).isEmpty();
  }

  @ParameterizedTest(name = "{0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "blood 06-06 ESCHERICHIA coli bacterium | matching-blood-culture"
            + " | ESCHERICHIA coli is in the blood of 2024-06-06 and in the urine.",
        "blood 06-09 Escherichia coli bacterium | matching-blood-culture"
            + " | No bacterium of the urine culture is in blood of the window.",
        "blood 06-06 Escherichia coli bacterium | no-symptom"
            + " | No symptom counts within the window.",
        "suprapubic-tenderness 06-05 | no-symptom"
            + " | There is a symptom that counts: suprapubic tenderness."
      })
  void of_a_bacteraemia(String given, String kind, String sentence) {
    Assessment said = Patient.admitted().assess(given + "; culture 06-05");

    assertThat(element(said, Criterion.ABUTI, kind).trace().finding()).isEqualTo(sentence);
  }

  /** Of catheter day 2 and over 65 no criterion can use it; the date of event is of day 3. */
  @Test
  void of_a_fever_that_only_keeps_a_bacteraemia_from_being_met() {
    Assessment said =
        Patient.of("06-01 07:00 admitted W1\n06-03 08:00 inserted c1")
            .assess(
                "aged 66; culture 06-05; temperature 06-04 38.5 Cel;"
                    + " blood 06-05 Escherichia coli bacterium");

    assertThat(element(said, Criterion.ABUTI, "no-symptom").trace().finding())
        .isEqualTo("There is a symptom that counts: fever.");
  }

  @Test
  void of_each_step_of_a_candidate() {
    assertThat(findings(Patient.admitted().assess("culture 06-05; temperature 06-04 38.5 Cel")))
        .containsExactly(
            "Infection window period 2024-06-02 to 2024-06-08: the culture's date, three before and"
                + " three after.",
            "The culture of 2024-06-05 is usable: Escherichia coli (bacterium, 100000 CFU/mL).",
            "Candidate by criterion SUTI-1b, with urine culture, fever.",
            "Date of event 2024-06-04: the first element within the window.",
            "Hospital day 4, counted from 2024-06-01: healthcare-associated, as day 3 and later"
                + " are.",
            "A new event: no earlier one of the stay has a timeframe that holds 2024-06-04. Its own"
                + " is 2024-06-04 to 2024-06-17.",
            "Secondary attribution period 2024-06-02 to 2024-06-17, 16 dates: the infection window"
                + " and the repeat timeframe together.",
            "No candidate for a catheter-associated event: the date of event is not eligible.",
            "No day of the count: no catheter that counts was in place on this date.",
            "Not eligible: neither this date nor the one before is day 3 or later.",
            "Ward W1: the first inpatient ward of the date before.");
  }

  @Test
  void of_each_step_of_what_is_added_and_of_what_lies_before_the_admission() {
    assertThat(
            findings(
                Patient.admitted()
                    .assess("event 06-01; culture 06-01; temperature 05-31 38.5 Cel")))
        .startsWith(
            "Infection window period 2024-05-30 to 2024-06-04: three dates after the culture, and"
                + " before it no further back than two dates before the admission of 2024-06-01.")
        .endsWith(
            "Date of event 2024-06-01, the first hospital day: the first element, on 2024-05-31,"
                + " lies before the admission.",
            "Hospital day 1, counted from 2024-06-01: present on admission, as days 1 and 2 are.",
            "No new event: 2024-06-01 lies in the repeat timeframe 2024-06-01 to 2024-06-14 of the"
                + " event of 2024-06-01, whose date, device association and ward stay. What it does"
                + " not name yet is added.");
  }

  @Test
  void of_a_culture_that_meets_nothing_each_criterion_is_named() {
    assertThat(findings(Patient.admitted().assess("culture 06-05")))
        .endsWith(
            "Criterion SUTI-1a is not met.",
            "Criterion SUTI-1b is not met.",
            "Criterion SUTI-2 is not met.",
            "Criterion ABUTI is not met.");
  }

  /** The later of two stays that hold the date of the culture: its window is cut there. */
  @Test
  void a_culture_that_meets_nothing_is_shown_in_the_later_stay() {
    Assessment said =
        Patient.of(
                """
                06-01 07:00 admitted A
                06-10 09:00 discharged
                06-10 12:00 admitted B stay=E2
                """)
            .assess("culture 06-10");

    assertThat(said.window().start()).isEqualTo(LocalDate.parse("2024-06-08"));
  }

  private static List<String> findings(Assessment said) {
    return said.traces().stream().map(Trace::finding).toList();
  }

  private static Element element(Assessment said, Criterion criterion, String kind) {
    return said.criteria().stream()
        .filter(one -> one.criterion() == criterion)
        .flatMap(one -> one.elements().stream())
        .filter(one -> one.kind().code().equals(kind))
        .findFirst()
        .orElseThrow();
  }
}
