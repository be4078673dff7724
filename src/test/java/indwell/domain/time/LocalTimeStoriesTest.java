package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.rule.FlagCode;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What changes of the clocks and odd zones do to both counts and to the flags. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LocalTimeStoriesTest {

  private static final String FROM_THE_SPRING_EVE =
      """
      2026-03-28 08:00 admitted A
      2026-03-28 10:00 inserted c1
      """;

  @Test
  void dates_are_those_of_the_facility_whatever_offset_was_sent() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Europe/Berlin",
            """
            2024-06-01T23:30:00+00:00 admitted A
            2024-06-01T18:45:00-05:00 inserted c1
            2024-06-04T03:59:00+06:00 removed c1
            """);

    assertThat(patient.days("06-05 12:00"))
        .isEqualTo(
            """
            06-02 day 1 present - A
            06-03 day 2 present - A
            06-04 - - - A
            06-05 - - - A""");
  }

  @Test
  void a_count_time_inside_the_gap_is_the_first_instant_after_it() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Europe/Berlin",
            """
            2026-03-28 08:00 admitted A
            2026-03-29T01:59:59.999+01:00 inserted c1
            2026-03-29T03:00+02:00 removed c1
            2026-03-29T03:00+02:00 inserted c2
            2026-03-30T02:30+02:00 discharged
            """);

    assertThat(patient.wardDays("A", "02:30", "2026-03-28", "2026-03-30"))
        .isEqualTo(
            """
            03-28 patients 0 catheters 0
            03-29 patients 1 catheters 1
            03-30 patients 0 catheters 0""");
  }

  @Test
  void who_leaves_exactly_after_the_gap_is_not_counted_in_it() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Europe/Berlin",
            """
            2026-03-28 08:00 admitted A
            2026-03-29T03:00+02:00 discharged
            """);

    assertThat(patient.wardDays("A", "02:30", "2026-03-29", "2026-03-29"))
        .isEqualTo("03-29 patients 0 catheters 0");
  }

  @Test
  void a_count_time_inside_the_overlap_is_the_earlier_one() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Europe/Berlin",
            """
            2026-10-24 08:00 admitted A
            2026-10-25T02:30:00.001+02:00 inserted c1
            2026-10-25T02:30+01:00 discharged
            """);

    assertThat(patient.wardDays("A", "02:30", "2026-10-25", "2026-10-25"))
        .isEqualTo("10-25 patients 1 catheters 0");
  }

  @Test
  void eight_hours_are_eight_hours_through_both_changes() {
    assertThat(
            TimelineSentence.in("Europe/Berlin", "2026-03-28 22:00 inserted c1")
                .history(FlagCode.OUTPUT_CHARTING_OVERDUE))
        .isEqualTo("c1 from 03-29 07:00");
    assertThat(
            TimelineSentence.in("America/New_York", "2026-10-31 22:00 inserted c1")
                .history(FlagCode.OUTPUT_CHARTING_OVERDUE))
        .isEqualTo("c1 from 11-01 05:00");
    assertThat(
            TimelineSentence.in("Australia/Lord_Howe", "2026-10-03 22:00 inserted c1")
                .history(FlagCode.OUTPUT_CHARTING_OVERDUE))
        .isEqualTo("c1 from 10-04 06:30");
  }

  @Test
  void noon_is_noon_and_midnight_midnight_through_the_change() {
    TimelineSentence patient = TimelineSentence.in("Europe/Berlin", FROM_THE_SPRING_EVE);

    assertThat(patient.flags(FlagCode.NEED_REVIEW_OVERDUE, "2026-03-29T11:59:59+02:00")).isEmpty();
    assertThat(patient.flags(FlagCode.NEED_REVIEW_OVERDUE, "2026-03-29T12:00:00+02:00"))
        .isEqualTo("c1 since 03-29 12:00");
    assertThat(patient.history(FlagCode.SECUREMENT_CHANGE_OVERDUE))
        .isEqualTo("c1 from 04-05 00:00");
    assertThat(patient.days("2026-03-30 12:00"))
        .isEqualTo(
            """
            03-28 day 1 present - A
            03-29 day 2 present - A
            03-30 day 3 present eligible A""");
  }

  @Test
  void a_day_without_a_midnight_begins_at_one() {
    TimelineSentence patient =
        TimelineSentence.in(
            "America/Sao_Paulo",
            """
            2018-11-02 10:00 admitted A
            2018-11-02 10:00 inserted c1 dwell=2
            2018-11-04T01:00-02:00 removed c1
            """);

    assertThat(patient.wardDays("A", "00:00", "2018-11-03", "2018-11-05"))
        .isEqualTo(
            """
            11-03 patients 1 catheters 1
            11-04 patients 1 catheters 0
            11-05 patients 1 catheters 0""");
    assertThat(patient.days("2018-11-05 12:00"))
        .isEqualTo(
            """
            11-02 day 1 present - A
            11-03 day 2 present - A
            11-04 day 3 present eligible A
            11-05 - - eligible A""");
    assertThat(patient.history(FlagCode.DWELL_LIMIT_EXCEEDED)).isEmpty();
  }

  @Test
  void leap_day_is_a_day() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Asia/Kathmandu",
            """
            2028-02-27 23:59 admitted A
            2028-02-27 23:59 inserted c1 dwell=3
            """);

    assertThat(patient.days("2028-03-01 00:00"))
        .isEqualTo(
            """
            02-27 day 1 present - A
            02-28 day 2 present - A
            02-29 day 3 present eligible A
            03-01 day 4 present eligible A""");
    assertThat(patient.flags(FlagCode.DWELL_LIMIT_EXCEEDED, "2028-02-29 23:59")).isEmpty();
    assertThat(patient.flags(FlagCode.DWELL_LIMIT_EXCEEDED, "2028-03-01 00:00"))
        .isEqualTo("c1 since 03-01 00:00");
  }

  @Test
  void both_ends_of_the_world() {
    String line = "2026-06-01T00:00Z admitted A\n2026-06-01T00:00Z inserted c1";

    assertThat(TimelineSentence.in("Pacific/Kiritimati", line).days("2026-06-02 09:00"))
        .isEqualTo("06-01 day 1 present - A\n06-02 day 2 present - A");
    assertThat(TimelineSentence.in("Etc/GMT+12", line).days("2026-06-02 09:00"))
        .isEqualTo(
            "05-31 day 1 present - A\n06-01 day 2 present - A\n06-02 day 3 present eligible A");
  }

  @Test
  void the_count_of_a_date_that_the_zone_left_out_is_that_of_the_instant_after() {
    TimelineSentence patient =
        TimelineSentence.in(
            "Pacific/Apia",
            """
            2011-12-31 00:00 admitted A
            2011-12-31 00:00 inserted c1
            """);

    assertThat(patient.wardDays("A", "00:00", "2011-12-29", "2011-12-31"))
        .isEqualTo(
            """
            12-29 patients 0 catheters 0
            12-30 patients 1 catheters 1
            12-31 patients 1 catheters 1""");
  }
}
