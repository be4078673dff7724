package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.rule.FlagCode;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The readings of docs/timeline.md: what is done where section 4 of the contract leaves a choice.
 *
 * <p>Source: the contract, which leaves it open; common practice, no source.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReadingsTest {

  private static final String SECOND_STAY =
      """
      06-01 10:00 admitted A
      06-01 11:00 inserted c1
      06-02 10:00 transferred B stay=E2
      """;

  @Test
  void a_transfer_into_a_second_stay_moves_the_patient_and_leaves_the_first_stay_open() {
    TimelineSentence patient = TimelineSentence.of(SECOND_STAY);

    assertThat(WholeTimeline.text(patient.timeline(), patient.calendar()))
        .isEqualTo(
            """
            E1 06-01 10:00 to -: A 06-01 10:00 to 06-02 10:00
            E2 06-02 10:00 to -: B 06-02 10:00 to -
            c1 06-01 11:00 to -
            ! IND-0211 e3
            ! IND-0206 e3""");
    assertThat(patient.wardDays("A", "10:00", "06-01", "06-02"))
        .isEqualTo("06-01 patients 1 catheters 0\n06-02 patients 0 catheters 0");
    assertThat(patient.wardDays("B", "10:00", "06-02", "06-02"))
        .isEqualTo("06-02 patients 1 catheters 1");
    assertThat(patient.days("06-02 12:00")).isEqualTo("06-02 day 1 present - B");
  }

  @Test
  void the_discharge_of_the_first_of_two_open_stays_ends_that_stay_and_no_catheter() {
    TimelineSentence patient = TimelineSentence.of(SECOND_STAY + "06-03 10:00 discharged stay=E1");

    assertThat(WholeTimeline.text(patient.timeline(), patient.calendar()))
        .isEqualTo(
            """
            E1 06-01 10:00 to 06-03 10:00: A 06-01 10:00 to 06-02 10:00
            E2 06-02 10:00 to -: B 06-02 10:00 to -
            c1 06-01 11:00 to -
            ! IND-0211 e3
            ! IND-0206 e3""");
  }

  @Test
  void the_discharge_of_a_stay_never_opened_ends_the_catheters_of_one_who_is_in_none() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 11:00 inserted c1
            06-02 10:00 discharged stay=E1
            06-03 10:00 admitted A stay=E1
            """);

    assertThat(WholeTimeline.text(patient.timeline(), patient.calendar()))
        .isEqualTo(
            """
            E1 06-03 10:00 to -: A 06-03 10:00 to -
            c1 06-01 11:00 to 06-02 10:00 DISCHARGED
            ! IND-0205 e1
            ! IND-0208 e2""");
  }

  @Test
  void the_discharge_of_a_stay_never_opened_changes_nothing_for_one_who_is_in_another() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged stay=E2
            """);

    assertThat(WholeTimeline.text(patient.timeline(), patient.calendar()))
        .isEqualTo(
            """
            E1 06-01 10:00 to -: A 06-01 10:00 to -
            c1 06-01 11:00 to -
            ! IND-0208 e3""");
  }

  @Test
  void after_a_discharge_at_midnight_the_date_after_is_eligible_and_has_no_ward() {
    String inAndOut =
        """
        06-01 10:00 admitted A
        06-01 11:00 inserted c1
        06-04 %s discharged
        """;

    assertThat(TimelineSentence.of(inAndOut.formatted("00:00")).days("06-09 12:00"))
        .endsWith("06-04 day 4 present eligible A\n06-05 - - eligible -");
    assertThat(TimelineSentence.of(inAndOut.formatted("00:01")).days("06-09 12:00"))
        .endsWith("06-04 day 4 present eligible A\n06-05 - - eligible A");
  }

  @Test
  void after_a_whole_date_outside_inpatient_wards_a_date_is_eligible_and_has_no_ward() {
    String outAndBack =
        """
        06-01 10:00 admitted A
        06-01 11:00 inserted c1
        06-03 %s transferred ER outpatient
        06-05 10:00 transferred B
        """;

    assertThat(TimelineSentence.of(outAndBack.formatted("00:00")).days("06-05 12:00"))
        .endsWith(
            """
            06-03 day 3 present eligible A
            06-04 day 4 present eligible -
            06-05 day 5 present eligible -""");
    assertThat(TimelineSentence.of(outAndBack.formatted("00:01")).days("06-05 12:00"))
        .endsWith(
            """
            06-03 day 3 present eligible A
            06-04 day 4 present eligible A
            06-05 day 5 present eligible -""");
  }

  @Test
  void clocks_run_on_while_a_catheter_rests_and_period_start_may_lie_in_the_rest() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged with-catheter
            06-10 10:00 admitted B stay=E2
            """);

    assertThat(patient.flags("06-02 12:00")).isEmpty();
    assertThat(patient.flags("06-10 09:59")).isEmpty();
    assertThat(patient.flags("06-10 10:00"))
        .isEqualTo(
            """
            need-review-overdue c1 since 06-02 12:00
            securement-change-overdue c1 since 06-09 00:00
            output-charting-overdue c1 since 06-01 19:00
            care-check-overdue c1 since 06-01 23:00""");
  }

  @Test
  void a_stay_of_no_length_has_its_date_and_the_one_after_and_makes_a_day_of_its_catheter() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 10:00 inserted c1
            06-01 10:00 discharged
            """);

    assertThat(patient.days("06-09 12:00")).isEqualTo("06-01 day 1 present - A\n06-02 - - - A");
    assertThat(patient.wardDays("A", "10:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 0 catheters 0");
    assertThat(patient.flags(FlagCode.REMOVAL_NOT_RECORDED, "06-01 10:00"))
        .isEqualTo("c1 since 06-01 10:00");
  }

  @Test
  void removal_not_recorded_outlasts_the_next_insertion_and_ends_with_its_removal() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged
            06-05 10:00 admitted A stay=E2
            06-05 11:00 inserted c1 stay=E2
            06-08 10:00 removed c1
            """);

    assertThat(patient.flags(FlagCode.REMOVAL_NOT_RECORDED, "06-07 10:00"))
        .isEqualTo("c1 since 06-02 10:00");
    assertThat(patient.flags(FlagCode.REMOVAL_NOT_RECORDED, "06-08 10:00")).isEmpty();
    assertThat(patient.history(FlagCode.REMOVAL_NOT_RECORDED))
        .isEqualTo("c1 from 06-02 10:00 to 06-08 10:00");
  }

  @Test
  void of_three_catheters_each_is_flagged_once_from_its_first_overlap_that_still_lasts() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 11:00 inserted c2
            06-03 11:00 inserted c3
            06-04 11:00 removed c2
            """);

    assertThat(patient.flags(FlagCode.OVERLAPPING_CATHETERS, "06-03 11:00"))
        .isEqualTo("c1 since 06-02 11:00\nc2 since 06-02 11:00\nc3 since 06-03 11:00");
    assertThat(patient.flags(FlagCode.OVERLAPPING_CATHETERS, "06-04 10:59"))
        .isEqualTo("c1 since 06-02 11:00\nc2 since 06-02 11:00\nc3 since 06-03 11:00");
    assertThat(patient.flags(FlagCode.OVERLAPPING_CATHETERS, "06-04 11:00"))
        .isEqualTo("c1 since 06-03 11:00\nc3 since 06-03 11:00");
  }
}
