package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.rule.FlagCode;
import java.time.Instant;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Contract, section 4: catheters. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CathetersTest {

  @Test
  void an_insertion_puts_in_and_the_next_removal_takes_out() {
    assertThat(
            placements(
                """
                06-01 10:00 admitted A
                06-01 11:00 inserted c1
                06-02 11:00 removed c1
                """))
        .isEqualTo("c1 06-01T11:00/06-02T11:00 REMOVED");
  }

  @Test
  void an_insertion_of_one_in_place_is_a_remark_only() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1 dwell=2
            06-02 11:00 inserted c1 dwell=30
            """);

    assertThat(placements(patient)).isEqualTo("c1 06-01T11:00/");
    assertThat(patient.flags(FlagCode.DWELL_LIMIT_EXCEEDED, "06-03 00:00"))
        .isEqualTo("c1 since 06-03 00:00");
    assertThat(patient.remarks()).isEqualTo("INSERTION_OF_CATHETER_IN_PLACE");
  }

  @Test
  void a_removal_of_one_not_in_place_is_a_remark_only() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 removed c1
            06-02 11:00 inserted c1
            06-03 11:00 removed c1
            06-04 11:00 removed c1
            """);

    assertThat(placements(patient)).isEqualTo("c1 06-02T11:00/06-03T11:00 REMOVED");
    assertThat(patient.remarks())
        .isEqualTo("REMOVAL_OF_CATHETER_NOT_IN_PLACE\nREMOVAL_OF_CATHETER_NOT_IN_PLACE");
  }

  @Test
  void an_exchange_ends_the_old_one_and_puts_the_replacement_in_at_the_same_instant() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 11:00 exchanged c1 c2
            """);

    assertThat(placements(patient))
        .isEqualTo("c1 06-01T11:00/06-02T11:00 EXCHANGED\nc2 06-02T11:00/");
    assertThat(patient.flags(FlagCode.OVERLAPPING_CATHETERS, "06-02 11:00")).isEmpty();
    assertThat(patient.remarks()).isEmpty();
  }

  @Test
  void an_exchange_of_an_unknown_catheter_puts_the_replacement_in_place() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 11:00 exchanged c1 c2
            """);

    assertThat(placements(patient)).isEqualTo("c2 06-02T11:00/");
    assertThat(patient.remarks()).isEqualTo("EXCHANGE_OF_CATHETER_NOT_IN_PLACE");
  }

  @Test
  void an_exchange_for_one_in_place_ends_the_old_one_and_changes_nothing_else() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-01 12:00 inserted c2
            06-02 11:00 exchanged c1 c2
            """);

    assertThat(placements(patient))
        .isEqualTo("c1 06-01T11:00/06-02T11:00 EXCHANGED\nc2 06-01T12:00/");
    assertThat(patient.remarks()).isEqualTo("INSERTION_OF_CATHETER_IN_PLACE");
  }

  @Test
  void a_discharge_ends_it_and_a_later_removal_is_put_on_record() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 11:00 discharged
            06-03 11:00 removed c1
            """);

    assertThat(placements(patient)).isEqualTo("c1 06-01T11:00/06-02T11:00 DISCHARGED");
    assertThat(patient.history(FlagCode.REMOVAL_NOT_RECORDED))
        .isEqualTo("c1 from 06-02 11:00 to 06-03 11:00");
  }

  @Test
  void after_a_discharge_with_it_the_catheter_rests_until_the_patient_is_admitted_again() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 11:00 discharged with-catheter
            06-10 10:00 admitted B stay=E2
            """);

    Placement catheter = patient.timeline().placements().get(0);
    assertThat(catheter.inPlaceAt(patient.instant("06-03 10:59"))).isTrue();
    assertThat(catheter.inPlaceAt(patient.instant("06-03 11:00"))).isFalse();
    assertThat(catheter.inPlaceAt(patient.instant("06-10 09:59"))).isFalse();
    assertThat(catheter.inPlaceAt(patient.instant("06-10 10:00"))).isTrue();
    assertThat(patient.flags("06-05 12:00")).isEmpty();
    assertThat(patient.days("06-09 12:00"))
        .isEqualTo(
            """
            06-01 day 1 present - A
            06-02 day 2 present - A
            06-03 day 3 present eligible A
            06-04 - - eligible A""");
    assertThat(patient.days("06-10 12:00")).isEqualTo("06-10 day 1 present - B");
  }

  @Test
  void a_resting_catheter_that_is_removed_at_home_does_not_come_back() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 11:00 discharged with-catheter
            06-05 11:00 removed c1
            06-10 10:00 admitted B stay=E2
            """);

    assertThat(placements(patient)).isEqualTo("c1 06-01T11:00/06-05T11:00 REMOVED");
    assertThat(patient.timeline().catheterDayAt(patient.instant("06-10 12:00"))).isFalse();
    assertThat(patient.days("06-11 12:00")).isEqualTo("06-10 - - - B\n06-11 - - - B");
    assertThat(patient.remarks()).isEmpty();
  }

  @Test
  void a_resting_catheter_removed_on_the_date_of_the_next_admission_makes_no_day() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 11:00 discharged with-catheter
            06-10 09:00 removed c1
            06-10 10:00 admitted B stay=E2
            """);

    assertThat(patient.days("06-10 12:00")).isEqualTo("06-10 - - - B");
  }

  @Test
  void a_resting_catheter_removed_at_the_instant_of_the_next_admission_was_there_on_that_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 11:00 discharged with-catheter
            06-10 10:00 removed c1
            06-10 10:00 admitted B stay=E2
            """);

    assertThat(patient.days("06-10 12:00")).isEqualTo("06-10 day 1 present - B");
  }

  @Test
  void a_movement_of_an_ended_stay_does_not_bring_a_resting_catheter_back() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged with-catheter
            06-03 10:00 transferred B
            06-04 10:00 admitted A
            """);

    assertThat(patient.timeline().placements())
        .singleElement()
        .satisfies(
            placement -> assertThat(placement.inPlaceAt(patient.instant("06-05 10:00"))).isFalse());
  }

  @Test
  void one_not_in_place_may_be_put_in_again_under_the_same_id() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 11:00 removed c1
            06-03 11:00 inserted c1
            06-04 11:00 discharged with-catheter
            06-05 11:00 admitted A stay=E2
            """);

    assertThat(placements(patient))
        .isEqualTo("c1 06-01T11:00/06-02T11:00 REMOVED\nc1 06-03T11:00/");
  }

  @Test
  void a_resting_one_is_not_in_place_and_may_be_put_in_anew() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 11:00 discharged with-catheter
            06-03 11:00 inserted c1 stay=E2
            """);

    assertThat(placements(patient))
        .isEqualTo("c1 06-01T11:00/06-03T11:00 PUT_IN_ANEW\nc1 06-03T11:00/");
  }

  @Test
  void an_insertion_outside_any_stay_is_in_place_and_makes_no_day_of_either_count() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 11:00 inserted c1
            06-03 10:00 admitted A
            """);

    assertThat(patient.timeline().catheterDayAt(patient.instant("06-01 12:00"))).isTrue();
    assertThat(patient.flags(FlagCode.NEED_REVIEW_OVERDUE, "06-02 12:00"))
        .isEqualTo("c1 since 06-02 12:00");
    assertThat(patient.days("06-02 12:00")).isEmpty();
    assertThat(patient.days("06-04 12:00"))
        .isEqualTo("06-03 day 1 present - A\n06-04 day 2 present - A");
    assertThat(patient.wardDays("A", "12:00", "06-01", "06-03"))
        .isEqualTo(
            """
            06-01 patients 0 catheters 0
            06-02 patients 0 catheters 0
            06-03 patients 1 catheters 1""");
    assertThat(patient.remarks()).isEqualTo("CATHETER_OUTSIDE_STAY");
  }

  @Test
  void an_insertion_after_the_discharge_makes_no_day_of_the_stay_that_ended() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-03 10:00 discharged
            06-03 11:00 inserted c1
            """);

    assertThat(patient.days("06-05 12:00"))
        .isEqualTo(
            """
            06-01 - - - A
            06-02 - - - A
            06-03 - present - A
            06-04 - present - A""");
  }

  @Test
  void one_in_and_out_before_the_stay_begins_makes_no_day_of_it() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 inserted c1
            06-01 09:00 removed c1
            06-01 10:00 admitted A
            """);

    assertThat(patient.days("06-01 12:00")).isEqualTo("06-01 - present - A");
  }

  @Test
  void put_in_and_taken_out_at_one_instant_it_makes_that_date_and_no_catheter_day() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 12:00 removed c1
            06-01 12:00 inserted c1
            """);

    assertThat(placements(patient)).isEqualTo("c1 06-01T12:00/06-01T12:00 REMOVED");
    assertThat(patient.days("06-01 12:00")).isEqualTo("06-01 day 1 present - A");
    assertThat(patient.wardDays("A", "12:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 1 catheters 0");
  }

  private static String placements(String lines) {
    return placements(TimelineSentence.of(lines));
  }

  /** A placement a line: the catheter, its start and end, and what ended it. */
  private static String placements(TimelineSentence patient) {
    return patient.timeline().placements().stream()
        .map(
            one ->
                one.catheter().value()
                    + " "
                    + local(patient, one.start())
                    + "/"
                    + one.end().map(end -> local(patient, end.at()) + " " + end.how()).orElse(""))
        .collect(Collectors.joining("\n"));
  }

  private static String local(TimelineSentence patient, Instant instant) {
    return patient.calendar().local(instant).toLocalDateTime().toString().substring(5);
  }
}
