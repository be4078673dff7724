package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Contract, section 4: eligibility, beyond the published cases. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EligibilityCountTest {

  @Test
  void the_count_starts_no_earlier_than_the_first_inpatient_date_and_goes_on_through_other_areas() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted ER outpatient
            06-01 11:00 inserted c1
            06-02 10:00 transferred A
            06-03 10:00 transferred DIALYSIS outpatient
            06-05 10:00 transferred A
            """);

    assertThat(patient.days("06-05 12:00"))
        .isEqualTo(
            """
            06-01 - present - -
            06-02 day 1 present - A
            06-03 day 2 present - A
            06-04 day 3 present eligible A
            06-05 day 4 present eligible -""");
  }

  @Test
  void a_stay_without_any_inpatient_ward_has_days_and_no_numbers() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted ER outpatient
            06-01 11:00 inserted c1
            06-03 10:00 discharged
            """);

    assertThat(patient.days("06-09 12:00"))
        .isEqualTo("06-01 - present - -\n06-02 - present - -\n06-03 - present - -\n06-04 - - - -");
  }

  @Test
  void the_discharge_date_stands_for_a_removal_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 10:00 discharged
            """);

    assertThat(patient.days("06-09 12:00"))
        .isEqualTo(
            """
            06-01 day 1 present - A
            06-02 day 2 present - A
            06-03 day 3 present eligible A
            06-04 - - eligible A""");
  }

  @Test
  void a_removal_at_midnight_makes_that_date_a_day() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 00:00 removed c1
            """);

    assertThat(patient.days("06-05 12:00"))
        .isEqualTo(
            """
            06-01 day 1 present - A
            06-02 day 2 present - A
            06-03 day 3 present eligible A
            06-04 - - eligible A
            06-05 - - - A""");
  }

  @Test
  void only_what_had_happened_by_then_is_known() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 removed c1
            06-02 15:00 inserted c2
            06-03 10:00 discharged
            """);

    assertThat(patient.days("06-01 10:59")).isEqualTo("06-01 - - - A");
    assertThat(patient.days("06-01 11:00")).isEqualTo("06-01 day 1 present - A");
    assertThat(patient.days("06-03 09:59")).endsWith("06-03 day 3 present eligible A");
    assertThat(patient.days("06-04 00:00")).endsWith("06-04 - - eligible A");
  }

  @Test
  void the_next_stay_counts_anew_on_the_same_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-05 10:00 discharged with-catheter
            06-05 15:00 admitted B stay=E2
            """);

    assertThat(patient.days("06-07 12:00"))
        .isEqualTo(
            """
            06-05 day 1 present - B
            06-06 day 2 present - B
            06-07 day 3 present eligible B""");
  }

  @Test
  void a_catheter_without_a_bag_makes_no_day() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1 no-bag
            """);

    assertThat(patient.days("06-01 12:00")).isEqualTo("06-01 - - - A");
  }

  @Test
  void before_admission_or_not_makes_no_difference() {
    String history =
        """
        05-01 11:00 inserted c1 %s
        06-01 10:00 admitted A
        """;

    assertThat(TimelineSentence.of(history.formatted("before-admission")).days("06-03 12:00"))
        .isEqualTo(TimelineSentence.of(history.formatted("")).days("06-03 12:00"))
        .endsWith("06-03 day 3 present eligible A");
  }
}
