package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.CatheterId;
import java.time.LocalDate;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What a timeline that was read can be asked. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class TimelineQuestionsTest {
  private static final TimelineSentence TWO_STAYS =
      TimelineSentence.of(
          """
          06-01 10:00 admitted A
          06-01 11:00 inserted c1
          06-02 10:00 reviewed c1 still-needed
          06-02 11:00 checked c1
          06-03 10:00 transferred B
          06-04 10:00 removed c1
          06-05 10:00 discharged
          06-10 10:00 admitted C stay=E2
          06-11 10:00 inserted c1 stay=E2
          06-12 10:00 checked c1
          """);

  @Test
  void where_the_patient_is_at_an_instant_begin_included_and_end_excluded() {
    assertThat(wardAt("06-01 09:59")).isEqualTo("-");
    assertThat(wardAt("06-01 10:00")).isEqualTo("A");
    assertThat(wardAt("06-03 09:59")).isEqualTo("A");
    assertThat(wardAt("06-03 10:00")).isEqualTo("B");
    assertThat(wardAt("06-05 10:00")).isEqualTo("-");
    assertThat(wardAt("06-20 10:00")).isEqualTo("C");
  }

  private static String wardAt(String time) {
    return TWO_STAYS
        .timeline()
        .wardAt(TWO_STAYS.instant(time))
        .map(stay -> stay.ward().code())
        .orElse("-");
  }

  /** Weights of every number from none to five, asked before, at and after each. */
  @Test
  void the_weight_that_holds_is_the_latest_at_or_before_the_instant() {
    for (int weights = 0; weights <= 5; weights++) {
      StringBuilder sentences = new StringBuilder();
      for (int day = 1; day <= weights; day++) {
        sentences.append("06-0%d 10:00 weighed %d%n".formatted(day, 70 + day));
      }
      TimelineSentence patient = TimelineSentence.of(sentences.toString());
      for (int day = 1; day <= weights; day++) {
        String before = day == 1 ? "-" : Integer.toString(70 + day - 1);
        assertThat(weightAt(patient, "06-0%d 09:59".formatted(day))).isEqualTo(before);
        assertThat(weightAt(patient, "06-0%d 10:00".formatted(day))).isEqualTo("" + (70 + day));
      }
      assertThat(weightAt(patient, "06-20 10:00"))
          .isEqualTo(weights == 0 ? "-" : Integer.toString(70 + weights));
    }
  }

  @Test
  void the_urine_that_ends_between_two_instants_the_first_excluded_and_the_second_included() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 urine 1 hours=1
            06-01 11:00 urine 2 hours=1
            06-01 11:00 urine 3 hours=8
            06-01 12:00 urine 4 hours=1
            """);
    assertThat(urineEnding(patient, "06-01 09:59", "06-01 12:00")).isEqualTo("1 2 3 4");
    assertThat(urineEnding(patient, "06-01 10:00", "06-01 11:59")).isEqualTo("2 3");
    assertThat(urineEnding(patient, "06-01 11:00", "06-01 12:00")).isEqualTo("4");
    assertThat(urineEnding(patient, "06-01 12:00", "06-01 10:00")).isEmpty();
    assertThat(urineEnding(patient, "06-01 08:00", "06-01 09:59")).isEmpty();
  }

  private static String urineEnding(TimelineSentence patient, String after, String until) {
    return patient.timeline().urineEnding(patient.instant(after), patient.instant(until)).stream()
        .map(one -> one.volumeMl().toPlainString())
        .sorted()
        .collect(Collectors.joining(" "));
  }

  /** Where two disagree the last decides (contract, section 4): by source, then by event id. */
  @Test
  void of_two_weights_at_one_instant_the_last_holds() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 weighed 80
            06-01 10:00 weighed 70
            """);
    assertThat(weightAt(patient, "06-01 10:00"))
        .isEqualTo(patient.timeline().weights().get(1).kg().toPlainString());
  }

  private static String weightAt(TimelineSentence patient, String time) {
    return patient
        .timeline()
        .weightAt(patient.instant(time))
        .map(weight -> weight.kg().toPlainString())
        .orElse("-");
  }

  @Test
  void the_latest_stay_that_had_begun() {
    assertThat(stayBegunBy("06-01 09:59")).isEqualTo("-");
    assertThat(stayBegunBy("06-01 10:00")).isEqualTo("E1");
    assertThat(stayBegunBy("06-10 09:59")).isEqualTo("E1");
    assertThat(stayBegunBy("06-10 10:00")).isEqualTo("E2");
  }

  private static String stayBegunBy(String time) {
    return TWO_STAYS
        .timeline()
        .latestStayBegunBy(TWO_STAYS.instant(time))
        .map(stay -> stay.encounter().value())
        .orElse("-");
  }

  @Test
  void the_last_time_that_a_catheter_was_put_in_place() {
    Timeline timeline = TWO_STAYS.timeline();

    assertThat(timeline.lastPlacementOf(new CatheterId("c1")).map(Placement::start))
        .contains(TWO_STAYS.instant("06-11 10:00"));
    assertThat(timeline.lastPlacementOf(new CatheterId("c2"))).isEmpty();
  }

  @Test
  void the_facts_of_one_kind_about_one_placement() {
    Placement first = TWO_STAYS.timeline().placements().get(0);

    assertThat(first.facts(NeedReview.class))
        .extracting(NeedReview::stillNeeded)
        .containsOnly(true);
    assertThat(first.facts(CareCheck.class))
        .extracting(CareCheck::at)
        .containsExactly(TWO_STAYS.instant("06-02 11:00"));
    assertThat(first.facts(SpecimenCollection.class)).isEmpty();
  }

  @Test
  void a_catheter_rests_from_a_discharge_with_it_until_something_ends_that() {
    String athome =
        """
        06-01 10:00 admitted A
        06-01 11:00 inserted c1
        06-02 10:00 discharged with-catheter
        """;

    assertThat(resting("06-01 11:00 inserted c1")).containsExactly(false);
    assertThat(resting(athome)).containsExactly(true);
    assertThat(resting(athome + "06-08 10:00 removed c1")).containsExactly(false);
    assertThat(resting(athome + "06-08 10:00 admitted A stay=E2")).containsExactly(false);
    assertThat(
            resting(
                athome
                    + "06-08 10:00 admitted A stay=E2\n"
                    + "06-09 10:00 discharged with-catheter stay=E2"))
        .containsExactly(true);
  }

  private static List<Boolean> resting(String lines) {
    return TimelineSentence.of(lines).timeline().placements().stream()
        .map(Placement::resting)
        .toList();
  }

  /** Contract, section 4: attribution is to the first inpatient ward of the day before. */
  @Test
  void the_ward_stay_by_which_a_date_is_attributed() {
    Timeline timeline = TWO_STAYS.timeline();
    EligibilityCount count = new EligibilityCount(timeline, TWO_STAYS.calendar());
    Stay first = timeline.stays().get(0);

    assertThat(count.attributedBy(LocalDate.parse("2024-06-03"), first).map(WardStay::ward))
        .hasToString("Optional[Ward[code=A]]");
    assertThat(count.attributedBy(LocalDate.parse("2024-06-05"), first).map(WardStay::ward))
        .hasToString("Optional[Ward[code=B]]");
    assertThat(count.attributedBy(LocalDate.parse("2024-05-31"), first)).isEmpty();
  }

  @Test
  void the_catheters_of_a_date_within_a_stay_and_out_of_it() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 inserted c0
            06-01 09:00 removed c0
            06-01 10:00 admitted A
            06-02 11:00 inserted c1
            06-02 12:00 inserted c2 suprapubic
            06-03 10:00 discharged
            06-03 11:00 inserted c3
            """);
    EligibilityCount count = new EligibilityCount(patient.timeline(), patient.calendar());
    Stay stay = patient.timeline().stays().get(0);

    assertThat(names(count.placementsOn(LocalDate.parse("2024-06-01"), stay))).isEmpty();
    assertThat(names(count.presentOn(LocalDate.parse("2024-06-01")))).containsExactly("c0");
    assertThat(names(count.placementsOn(LocalDate.parse("2024-06-02"), stay)))
        .containsExactly("c1");
    assertThat(names(count.placementsOn(LocalDate.parse("2024-06-03"), stay)))
        .containsExactly("c1");
    assertThat(names(count.presentOn(LocalDate.parse("2024-06-03")))).containsExactly("c1", "c3");
  }

  @Test
  void on_the_date_of_the_discharge_the_date_after_it_is_not_there_yet() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 10:00 discharged
            """);

    assertThat(patient.days("06-03 12:00").lines()).last().asString().startsWith("06-03 ");
    assertThat(patient.days("06-04 00:00").lines()).last().asString().startsWith("06-04 ");
    assertThat(patient.days("06-09 12:00").lines()).last().asString().startsWith("06-04 ");
  }

  private static List<String> names(List<Placement> placements) {
    return placements.stream().map(placement -> placement.catheter().value()).toList();
  }

  /** Rows are those of the dates asked for, however long the patient stayed. */
  @Test
  void a_patient_who_stays_on_makes_no_row_beyond_the_last_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-09 10:00 discharged
            """);

    assertThat(patient.wardDays("A", "12:00", "06-02", "06-03"))
        .isEqualTo("06-02 patients 1 catheters 1\n06-03 patients 1 catheters 1");
  }

  @Test
  void a_doubtful_movement_is_told_in_a_sentence() {
    assertThat(sentence("06-03 10:00 discharged"))
        .isEqualTo("The patient was discharged from a stay that had not begun.");
    assertThat(sentence("06-01 10:00 transferred A"))
        .isEqualTo(
            "The stay has no admission before this transfer, which is read as its beginning.");
  }

  private static String sentence(String lines) {
    return TimelineSentence.of(lines).timeline().remarks().get(0).sentence();
  }

  @Test
  void a_catheter_that_had_ended_is_not_named_by_a_doubtful_fact_of_later() {
    Timeline timeline =
        TimelineSentence.of(
                """
                06-01 10:00 admitted A
                06-01 11:00 inserted c1
                06-02 11:00 removed c1
                06-03 11:00 removed c1 id=again
                """)
            .timeline();

    assertThat(timeline.remarks())
        .singleElement()
        .satisfies(
            remark ->
                assertThat(remark.events())
                    .extracting(event -> event.eventId())
                    .containsExactly("again"));
  }
}
