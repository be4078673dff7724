package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.candidate.Outcome.Added;
import indwell.domain.candidate.Outcome.Met;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.candidate.Outcome.NoCriterion;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.CatheterDay;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The steps together, and the criteria by {@link SymptomaticInfant}, {@link Bacteraemic}, {@link
 * UsableFindings} and {@link DeviceAssociation}. Sources: rules P1 to P11, U1 to U4, E2, E3, E11,
 * L1 to L3 as docs/rules.md cites them; situations without a source of their own are derived.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CandidateReviewTest {
  private static final String FEVER = "temperature 06-05 38.5 Cel; ";

  @Test
  void a_patient_without_any_event_has_a_candidate_outside_any_stay() {
    NewCandidate found = Patient.of("").candidate(FEVER + "culture 06-05");

    assertThat(found.criterion()).isEqualTo(Criterion.SUTI_1B);
    assertThat(found.onset()).isEqualTo(Onset.OUTSIDE_STAY);
    assertThat(found.day()).isEmpty();
    assertThat(found.ward()).isEmpty();
    assertThat(found.catheterAssociated()).isFalse();
  }

  @Test
  void a_catheter_outside_any_stay_bars_dysuria_and_makes_nothing_eligible() {
    Patient atHome = Patient.of("05-20 08:00 inserted c1");

    assertThat(atHome.result("culture 06-05; dysuria 06-05")).isEqualTo("none");
    assertThat(atHome.result("culture 06-05; " + FEVER + "aged 65")).isEqualTo("SUTI-1b");
    assertThat(atHome.result("culture 06-05; " + FEVER + "aged 66")).isEqualTo("none");
  }

  /** An element of the window that lies in a stay does not make the culture one of the stay. */
  @Test
  void a_culture_three_dates_before_the_admission_is_not_of_the_stay() {
    NewCandidate found = Patient.admitted().candidate("culture 05-29; temperature 05-30 38.5 Cel");

    assertThat(found.onset()).isEqualTo(Onset.OUTSIDE_STAY);
    assertThat(found.dateOfEvent().date()).isEqualTo(LocalDate.parse("2024-05-29"));
    assertThat(Patient.admitted().candidate("culture 05-01; temperature 05-01 38.5 Cel").onset())
        .isEqualTo(Onset.OUTSIDE_STAY);
  }

  @Test
  void the_first_date_of_a_stay_has_its_catheter_day() {
    NewCandidate found =
        Patient.catheterised().candidate("culture 06-01; temperature 06-01 38.5 Cel");

    assertThat(found.day().flatMap(CatheterDay::number))
        .hasValueSatisfying(number -> assertThat(number.value()).isEqualTo(1));
    assertThat(found.hospitalDay()).contains(new HospitalDay(1));
  }

  @Test
  void a_stay_without_an_inpatient_ward_is_none() {
    Patient patient = Patient.of("06-01 07:00 admitted ER outpatient\n06-01 08:00 inserted c1");

    assertThat(patient.candidate(FEVER + "culture 06-05").onset()).isEqualTo(Onset.OUTSIDE_STAY);
  }

  /** P2: what lies further back than two dates is no element, in the stay or out of it. */
  @Test
  void fever_three_dates_before_the_admission_is_not_found_by_looking_outside_the_stay() {
    assertThat(Patient.admitted().assess("culture 06-01; temperature 05-29 38.5 Cel").outcome())
        .isInstanceOf(NoCriterion.class);
  }

  @ParameterizedTest(name = "date of event {0}: {1}, {2}, ward {3}")
  @CsvSource({
    "06-09, SUTI-1a, healthcare-associated, A",
    "06-10, SUTI-1a, healthcare-associated, A",
    "06-11, SUTI-1a, healthcare-associated, A",
    // Readmitted on 06-13: what lies two dates before is present on admission there.
    "06-12, SUTI-1b, present-on-admission, none",
    "06-14, SUTI-1b, present-on-admission, none",
    "06-15, SUTI-1b, healthcare-associated, B"
  })
  void a_discharge_and_a_readmission(String date, String criterion, String onset, String ward) {
    Patient patient =
        Patient.of(
            """
            06-01 07:00 admitted A
            06-01 08:00 inserted c1
            06-10 11:00 discharged
            06-13 09:00 admitted B stay=E2
            """);
    NewCandidate found =
        patient.candidate("culture %s; temperature %s 38.5 Cel".formatted(date, date));

    assertThat(found.criterion().code()).isEqualTo(criterion);
    assertThat(found.onset().code()).isEqualTo(onset);
    assertThat(found.ward().map(Ward::code).orElse("none")).isEqualTo(ward);
  }

  @Test
  void a_timeframe_ends_with_its_stay() {
    Patient patient =
        Patient.of(
            """
            06-01 07:00 admitted A
            06-10 11:00 discharged
            06-13 09:00 admitted B stay=E2
            """);
    String event = "event 06-05; ";

    assertThat(patient.assess(event + "culture 06-11; temperature 06-11 38.5 Cel").outcome())
        .isInstanceOf(Added.class);
    assertThat(patient.assess(event + "culture 06-15; temperature 06-15 38.5 Cel").outcome())
        .isInstanceOf(NewCandidate.class);
  }

  @Test
  void cultures_of_one_question_open_timeframes_by_date_whatever_their_order() {
    String fevers = "temperature 06-05 38.5 Cel; temperature 06-20 38.5 Cel; ";
    List<Assessment> forward =
        Patient.admitted().assessments(fevers + "culture 06-05; culture 06-20; culture 06-07");

    assertThat(forward)
        .extracting(one -> one.outcome().getClass().getSimpleName())
        .containsExactly("NewCandidate", "NewCandidate", "Added");
    assertThat(((Added) forward.get(2).outcome()).to().dateOfEvent())
        .isEqualTo(LocalDate.parse("2024-06-05"));
    assertThat(((Added) forward.get(2).outcome()).organisms()).isEmpty();
    assertThat(
            Patient.admitted().assessments(fevers + "culture 06-20; culture 06-07; culture 06-05"))
        .extracting(Assessment::outcome)
        .containsExactlyElementsOf(
            List.of(forward.get(1).outcome(), forward.get(2).outcome(), forward.get(0).outcome()));
  }

  /** What lies in a timeframe opens none of its own: 06-18 is day 15 of 06-04. */
  @Test
  void what_is_added_does_not_make_the_timeframe_longer() {
    List<Assessment> all =
        Patient.admitted()
            .assessments(
                "culture 06-04; culture 06-17; culture 06-18; temperature 06-04 38.5 Cel;"
                    + " temperature 06-17 38.5 Cel; costovertebral-pain 06-18");

    assertThat(all)
        .extracting(one -> one.outcome().getClass().getSimpleName())
        .containsExactly("NewCandidate", "Added", "Added");
    assertThat(((Met) all.get(2).outcome()).dateOfEvent().date())
        .as("the fever of 06-17 is within the window of 06-18")
        .isEqualTo(LocalDate.parse("2024-06-17"));
  }

  /** Each symptom is judged by its own date of event: the fever of 06-04 is of catheter day 2. */
  @Test
  void a_fever_that_no_criterion_can_use_hides_no_later_pain() {
    Patient patient = Patient.of("06-01 07:00 admitted W1\n06-03 08:00 inserted c1");
    String given = "aged 70; culture 06-05; temperature 06-04 38.5 Cel; costovertebral-pain 06-05";

    NewCandidate found = patient.candidate(given);
    assertThat(found.criterion()).isEqualTo(Criterion.SUTI_1A);
    assertThat(found.dateOfEvent().date()).isEqualTo(LocalDate.parse("2024-06-05"));
    assertThat(element(patient.assess(given), Criterion.SUTI_1A, Symptom.FEVER).trace().finding())
        .isEqualTo(
            "Fever (38.5 Cel) on 2024-06-04, within the window. Not met: the date of event would"
                + " be 2024-06-04, which is not eligible.");
    assertThat(element(patient.assess(given), Criterion.SUTI_1B, Symptom.FEVER).trace().finding())
        .endsWith(" Not met: fever counts here at 65 years or less, and the age is 70.");
  }

  @Test
  void of_two_criteria_the_one_with_the_earlier_element_is_chosen() {
    Patient patient = Patient.of("06-01 07:00 admitted W1\n06-03 08:00 inserted c1");

    assertThat(patient.result("culture 06-05; costovertebral-pain 06-04; " + FEVER + "aged 70"))
        .as("the pain of catheter day 2 comes first")
        .isEqualTo("SUTI-1b");
    assertThat(patient.result("culture 06-05; apnea 06-04; " + FEVER + "aged 0"))
        .isEqualTo("SUTI-2");
    assertThat(patient.result("culture 06-05; apnea 06-05; " + FEVER + "aged 0"))
        .isEqualTo("SUTI-1a catheter");
  }

  @Test
  void a_dysuria_that_cannot_be_used_does_not_hide_a_bacteraemia() {
    Patient patient = Patient.catheterised();
    String given = "culture 06-05; dysuria 06-05; blood 06-06 Escherichia coli bacterium";

    assertThat(patient.result(given)).isEqualTo("ABUTI catheter");
    Element barred = element(patient.assess(given), Criterion.SUTI_1A, Symptom.DYSURIA);
    assertThat(barred.trace().finding())
        .isEqualTo("Dysuria on 2024-06-05 cannot be used: a catheter was in place on that date.");
    assertThat(barred.trace().facts())
        .extracting(event -> event.key().eventId())
        .containsExactly("e2");
  }

  @Test
  void an_unusable_culture_meets_nothing_and_says_why() {
    Assessment said =
        Patient.catheterised()
            .assess(FEVER + "culture 06-05 Escherichia coli bacterium 75000-100000");

    assertThat(said.outcome()).isInstanceOf(NoCriterion.class);
    assertThat(said.criteria()).noneMatch(CriterionResult::met);
    assertThat(said.traces().get(1).finding())
        .isEqualTo(
            "The culture of 2024-06-05 is not usable: the laboratory has not said that it is 100000"
                + " CFU/mL or more of a bacterium in Escherichia coli (bacterium, 75000 to 100000"
                + " CFU/mL).");
  }

  @Test
  void every_step_says_its_rule_and_its_facts_in_order() {
    Assessment said =
        Patient.of(
                """
                06-01 07:00 admitted A
                06-01 08:00 inserted c1
                06-04 09:00 transferred B
                06-05 10:00 removed c1
                """)
            .assess("temperature 06-06 38.5 Cel; culture 06-06");

    assertThat(said.traces())
        .extracting(Trace::rule)
        .containsExactly(
            RuleId.WINDOW_1,
            RuleId.CULTURE_1,
            RuleId.SUTI_1A,
            RuleId.EVENT_1,
            RuleId.POA_1,
            RuleId.REPEAT_1,
            RuleId.SECOND_1,
            RuleId.DEVICE_1,
            RuleId.ELI_1,
            RuleId.ELI_3,
            RuleId.ATT_1);
    assertThat(said.traces())
        .extracting(trace -> trace.facts().stream().map(e -> e.key().eventId()).toList())
        .containsExactly(
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of("e1"),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of("e2", "e4"),
            List.of("e3"));
    assertThat(said.traces()).extracting(Trace::finding).allMatch(text -> text.endsWith("."));
  }

  @Test
  void one_present_on_admission_gives_no_reason_for_a_ward() {
    Assessment said = Patient.catheterised().assess("temperature 06-02 38.5 Cel; culture 06-02");

    assertThat(said.traces()).extracting(Trace::rule).doesNotContain(RuleId.ATT_1);
    assertThat(((Met) said.outcome()).day().flatMap(CatheterDay::number))
        .hasValueSatisfying(number -> assertThat(number.value()).isEqualTo(2));
  }

  @Test
  void an_earlier_event_without_organisms_is_given_all_that_grows() {
    Added added =
        (Added) Patient.admitted().assess("event 06-04; " + FEVER + "culture 06-05").outcome();

    assertThat(added.organisms()).extracting(Organism::name).containsExactly("Escherichia coli");
    assertThat(added.criterion()).isEqualTo(Criterion.SUTI_1B);
  }

  @Test
  void nothing_is_asked_and_nothing_is_said() {
    assertThat(
            CandidateReview.of(
                Patient.admitted().history().timeline(),
                Patient.admitted().history().calendar(),
                CandidateSentence.of("aged 40")))
        .isEmpty();
  }

  private static Element element(Assessment said, Criterion criterion, Symptom symptom) {
    return said.criteria().stream()
        .filter(one -> one.criterion() == criterion)
        .flatMap(one -> one.elements().stream())
        .filter(one -> one.kind() == symptom)
        .findFirst()
        .orElseThrow();
  }
}
