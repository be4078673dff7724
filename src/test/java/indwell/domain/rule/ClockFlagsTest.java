package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalTime;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/**
 * The flags that the passing of time raises, each one short, exact and one over.
 *
 * <p>Source: contract, section 3, default rules for the flags; docs/rules.md has where each limit
 * comes from.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ClockFlagsTest {

  private static final String IN = "06-01 10:00 admitted A\n06-01 11:00 inserted c1 %s\n";

  private static TimelineSentence patient(String details, String... lines) {
    return TimelineSentence.of(IN.formatted(details) + String.join("\n", lines));
  }

  @Nested
  class Need_review {

    private static final FlagCode CODE = FlagCode.NEED_REVIEW_OVERDUE;

    @Test
    void due_by_noon_of_the_day_after_the_insertion() {
      assertThat(patient("").flags(CODE, "06-02 11:59:59.999")).isEmpty();
      assertThat(patient("").flags(CODE, "06-02 12:00")).isEqualTo("c1 since 06-02 12:00");
      assertThat(patient("").flags(CODE, "06-09 12:00")).isEqualTo("c1 since 06-02 12:00");
    }

    @Test
    void inserted_just_before_midnight_or_just_after_noon_the_next_day_counts() {
      assertThat(TimelineSentence.of("06-01 23:59 inserted c1").flags(CODE, "06-02 12:00"))
          .isEqualTo("c1 since 06-02 12:00");
      assertThat(TimelineSentence.of("06-02 00:00 inserted c1").flags(CODE, "06-02 12:00"))
          .isEmpty();
    }

    @Test
    void a_review_exactly_at_noon_is_in_time_and_a_late_one_ends_the_flag() {
      TimelineSentence late = patient("", "06-02 12:00:00.001 reviewed c1 still-needed");

      assertThat(patient("", "06-02 12:00 reviewed c1 still-needed").history(CODE))
          .isEqualTo("c1 from 06-03 12:00");
      assertThat(late.history(CODE)).startsWith("c1 from 06-02 12:00 to 06-02 12:00:00.001\n");
      assertThat(late.flags(CODE, "06-02 12:00")).isEqualTo("c1 since 06-02 12:00");
      assertThat(late.flags(CODE, "06-02 12:00:00.001")).isEmpty();
    }

    @Test
    void due_by_noon_of_the_day_after_the_last_day_with_a_review() {
      TimelineSentence reviewed =
          patient(
              "",
              "06-02 08:00 reviewed c1 still-needed",
              "06-02 20:00 reviewed c1 not-needed",
              "06-04 13:00 reviewed c1 still-needed");

      assertThat(reviewed.history(CODE))
          .isEqualTo("c1 from 06-03 12:00 to 06-04 13:00\nc1 from 06-05 12:00");
    }

    @Test
    void a_review_on_the_day_of_insertion_changes_nothing() {
      assertThat(patient("", "06-01 20:00 reviewed c1 still-needed").history(CODE))
          .isEqualTo("c1 from 06-02 12:00");
    }

    @Test
    void other_facts_and_other_catheters_do_not_set_it_back() {
      TimelineSentence others =
          patient(
              "",
              "06-01 11:00 inserted c2",
              "06-02 11:00 checked c1",
              "06-02 11:00 securement c1",
              "06-02 11:00 specimen c1",
              "06-02 11:00 urine 100 hours=1",
              "06-02 11:00 reviewed c2 still-needed");

      assertThat(others.flags(CODE, "06-02 12:00")).isEqualTo("c1 since 06-02 12:00");
    }

    @Test
    void an_exchange_is_an_insertion_for_its_replacement() {
      TimelineSentence exchanged = patient("", "06-02 12:00 exchanged c1 c2");

      assertThat(exchanged.history(CODE)).isEqualTo("c2 from 06-03 12:00");
    }

    @Test
    void it_ends_with_the_catheter() {
      assertThat(patient("", "06-03 09:00 removed c1").history(CODE))
          .isEqualTo("c1 from 06-02 12:00 to 06-03 09:00");
      assertThat(patient("", "06-02 12:00 removed c1").history(CODE)).isEmpty();
    }

    @Test
    void a_ward_may_set_another_time() {
      TimelineSentence patient = patient("").with(settings(LocalTime.of(10, 30), 7, 8, 12, 24));

      assertThat(patient.flags(CODE, "06-02 10:29")).isEmpty();
      assertThat(patient.flags(CODE, "06-02 10:30")).isEqualTo("c1 since 06-02 10:30");
    }
  }

  @Nested
  class Securement_change {

    private static final FlagCode CODE = FlagCode.SECUREMENT_CHANGE_OVERDUE;

    @Test
    void applied_on_1_march_the_last_good_day_is_8_march() {
      TimelineSentence patient = TimelineSentence.of("2026-03-01 10:00 inserted c1");

      assertThat(patient.flags(CODE, "2026-03-08 23:59:59.999")).isEmpty();
      assertThat(patient.flags(CODE, "2026-03-09 00:00")).isEqualTo("c1 since 03-09 00:00");
    }

    @Test
    void the_day_counts_and_not_the_hour() {
      assertThat(TimelineSentence.of("06-01 00:00 inserted c1").history(CODE))
          .isEqualTo(TimelineSentence.of("06-01 23:59 inserted c1").history(CODE))
          .isEqualTo("c1 from 06-09 00:00");
    }

    @Test
    void the_latest_change_sets_it_back_and_nothing_else() {
      TimelineSentence changed =
          patient(
              "",
              "06-05 20:00 securement c1",
              "06-06 20:00 checked c1",
              "06-07 20:00 reviewed c1 still-needed");

      assertThat(changed.history(CODE)).isEqualTo("c1 from 06-13 00:00");
    }

    @Test
    void a_change_at_the_very_midnight_is_in_time() {
      assertThat(patient("", "06-09 00:00 securement c1").history(CODE))
          .isEqualTo("c1 from 06-17 00:00");
    }

    @Test
    void suprapubic_ones_and_those_without_a_bag_raise_it_too() {
      assertThat(patient("suprapubic").flags(CODE, "06-09 00:00")).isNotEmpty();
      assertThat(patient("no-bag").flags(CODE, "06-09 00:00")).isNotEmpty();
    }

    @Test
    void a_ward_may_set_another_number_of_days() {
      TimelineSentence patient = patient("").with(settings(LocalTime.NOON, 3, 8, 12, 24));

      assertThat(patient.history(CODE)).isEqualTo("c1 from 06-05 00:00");
    }
  }

  @Nested
  class Output_charting {

    private static final FlagCode CODE = FlagCode.OUTPUT_CHARTING_OVERDUE;

    @Test
    void in_force_only_after_eight_hours_and_dated_from_them() {
      assertThat(patient("").flags(CODE, "06-01 18:59:59.999")).isEmpty();
      assertThat(patient("").flags(CODE, "06-01 19:00")).isEmpty();
      assertThat(patient("").flags(CODE, "06-01 19:00:00.001")).isEqualTo("c1 since 06-01 19:00");
    }

    @Test
    void the_end_of_a_measured_interval_sets_it_back_whatever_catheter_it_names() {
      TimelineSentence measured =
          patient("", "06-01 19:00 urine 100 hours=8", "06-02 04:00 urine 0 hours=1 catheter=c9");

      assertThat(measured.history(CODE))
          .isEqualTo("c1 from 06-02 03:00 to 06-02 04:00\nc1 from 06-02 12:00");
    }

    @Test
    void an_interval_that_ended_before_the_insertion_sets_nothing() {
      assertThat(patient("", "06-01 10:30 urine 100 hours=2").history(CODE))
          .isEqualTo("c1 from 06-01 19:00");
    }

    @Test
    void it_serves_every_catheter_and_suprapubic_ones_too_but_none_without_a_bag() {
      TimelineSentence three =
          TimelineSentence.of(
              """
              06-01 11:00 inserted c1
              06-01 12:00 inserted c2 suprapubic
              06-01 13:00 inserted c3 no-bag
              06-01 14:00 urine 100 hours=1
              """);

      assertThat(three.history(CODE)).isEqualTo("c1 from 06-01 22:00\nc2 from 06-01 22:00");
    }

    @Test
    void other_facts_do_not_set_it_back() {
      assertThat(patient("", "06-01 18:00 checked c1", "06-01 18:00 specimen c1").history(CODE))
          .isEqualTo("c1 from 06-01 19:00");
    }

    @Test
    void a_ward_may_set_other_hours() {
      TimelineSentence patient = patient("").with(settings(LocalTime.NOON, 7, 2, 12, 24));

      assertThat(patient.history(CODE)).isEqualTo("c1 from 06-01 13:00");
    }
  }

  @Nested
  class Care_check {

    private static final FlagCode CODE = FlagCode.CARE_CHECK_OVERDUE;

    @Test
    void in_force_only_after_twelve_hours_and_dated_from_them() {
      assertThat(patient("").flags(CODE, "06-01 23:00")).isEmpty();
      assertThat(patient("").flags(CODE, "06-01 23:00:00.001")).isEqualTo("c1 since 06-01 23:00");
    }

    @Test
    void a_check_sets_it_back_and_other_facts_do_not() {
      TimelineSentence checked =
          patient(
              "",
              "06-01 23:00 checked c1",
              "06-02 10:00 securement c1",
              "06-02 10:00 reviewed c1 still-needed",
              "06-02 10:00 urine 50 hours=1",
              "06-02 12:00 checked c1");

      assertThat(checked.history(CODE))
          .isEqualTo("c1 from 06-02 11:00 to 06-02 12:00\nc1 from 06-03 00:00");
    }

    @Test
    void without_a_bag_and_suprapubic_too() {
      assertThat(patient("no-bag").history(CODE)).isEqualTo("c1 from 06-01 23:00");
      assertThat(patient("suprapubic").history(CODE)).isEqualTo("c1 from 06-01 23:00");
    }

    @Test
    void a_ward_may_set_other_hours() {
      TimelineSentence patient = patient("").with(settings(LocalTime.NOON, 7, 8, 4, 24));

      assertThat(patient.history(CODE)).isEqualTo("c1 from 06-01 15:00");
    }
  }

  @Nested
  class Removal_after_surgery {

    private static final FlagCode CODE = FlagCode.POSTOPERATIVE_REMOVAL_OVERDUE;

    @Test
    void more_than_24_hours_after_the_end_of_surgery() {
      TimelineSentence patient = patient("for=perioperative surgery=06-01_15:00");

      assertThat(patient.flags(CODE, "06-02 15:00")).isEmpty();
      assertThat(patient.flags(CODE, "06-02 15:00:00.001")).isEqualTo("c1 since 06-02 15:00");
    }

    @Test
    void or_after_the_insertion_when_that_is_later_or_no_end_is_known() {
      assertThat(patient("for=perioperative surgery=06-01_09:00").history(CODE))
          .isEqualTo(patient("for=perioperative").history(CODE))
          .isEqualTo("c1 from 06-02 11:00");
    }

    @Test
    void not_for_another_indication() {
      assertThat(patient("for=acute-retention surgery=06-01_15:00").history(CODE)).isEmpty();
    }

    @Test
    void the_latest_indication_decides() {
      assertThat(
              patient("for=perioperative", "06-03 09:00 reviewed c1 still-needed for=other")
                  .history(CODE))
          .isEqualTo("c1 from 06-02 11:00 to 06-03 09:00");
      assertThat(
              patient("for=other", "06-01 20:00 reviewed c1 still-needed for=perioperative")
                  .history(CODE))
          .isEqualTo("c1 from 06-02 11:00");
    }

    @Test
    void stated_only_when_the_time_is_up_it_dates_from_the_statement() {
      TimelineSentence late =
          patient("for=other", "06-03 09:00 reviewed c1 still-needed for=perioperative");

      assertThat(late.flags(CODE, "06-03 09:00")).isEqualTo("c1 since 06-03 09:00");
    }

    @Test
    void a_review_without_an_indication_leaves_the_latest_standing() {
      assertThat(patient("for=perioperative", "06-02 09:00 reviewed c1 not-needed").history(CODE))
          .isEqualTo("c1 from 06-02 11:00");
    }

    @Test
    void the_trace_names_the_statement_and_what_started_the_clock() {
      TimelineSentence patient =
          patient(
              "for=perioperative surgery=06-01_15:00",
              "06-02 09:00 reviewed c1 still-needed for=perioperative");

      assertThat(patient.inForce("06-02 16:00"))
          .filteredOn(span -> span.code() == CODE)
          .singleElement()
          .satisfies(
              span ->
                  assertThat(span.trace().facts())
                      .extracting(fact -> fact.key().eventId())
                      .containsExactly("e3", "e2"));
    }

    @Test
    void a_ward_may_set_other_hours() {
      TimelineSentence patient =
          patient("for=perioperative").with(settings(LocalTime.NOON, 7, 8, 12, 48));

      assertThat(patient.history(CODE)).isEqualTo("c1 from 06-03 11:00");
    }
  }

  @Nested
  class Dwell_limit {

    private static final FlagCode CODE = FlagCode.DWELL_LIMIT_EXCEEDED;

    @Test
    void from_the_midnight_that_begins_the_first_day_too_many() {
      assertThat(patient("dwell=7").flags(CODE, "06-07 23:59:59.999")).isEmpty();
      assertThat(patient("dwell=7").flags(CODE, "06-08 00:00")).isEqualTo("c1 since 06-08 00:00");
      assertThat(patient("dwell=1").history(CODE)).isEqualTo("c1 from 06-02 00:00");
    }

    @Test
    void not_without_a_limit_and_not_when_taken_out_at_that_midnight() {
      assertThat(patient("").history(CODE)).isEmpty();
      assertThat(patient("dwell=7", "06-08 00:00 removed c1").history(CODE)).isEmpty();
      assertThat(patient("dwell=7", "06-08 00:01 removed c1").history(CODE))
          .isEqualTo("c1 from 06-08 00:00 to 06-08 00:01");
    }

    @Test
    void an_exchange_starts_the_count_of_the_replacement() {
      assertThat(patient("dwell=7", "06-05 10:00 exchanged c1 c2 dwell=3").history(CODE))
          .isEqualTo("c2 from 06-08 00:00");
    }

    @Test
    void days_at_home_are_days_in_the_patient() {
      TimelineSentence back =
          patient(
              "dwell=7", "06-03 10:00 discharged with-catheter", "06-09 10:00 admitted A stay=E2");

      assertThat(back.flags(CODE, "06-08 12:00")).isEmpty();
      assertThat(back.flags(CODE, "06-09 10:00")).isEqualTo("c1 since 06-08 00:00");
    }
  }

  @Nested
  class Looking_ahead {

    @Test
    void what_will_be_in_force_if_nothing_is_done() {
      TimelineSentence patient = patient("dwell=2 for=perioperative");

      assertThat(patient.flags("06-03 23:00"))
          .isEqualTo(
              """
              need-review-overdue c1 since 06-02 12:00
              output-charting-overdue c1 since 06-01 19:00
              care-check-overdue c1 since 06-01 23:00
              postoperative-removal-overdue c1 since 06-02 11:00
              dwell-limit-exceeded c1 since 06-03 00:00""");
    }
  }

  private static RuleSettings settings(
      LocalTime reviewDueBy, int goodDays, int outputHours, int checkHours, int surgeryHours) {
    return new RuleSettings(
        reviewDueBy,
        goodDays,
        Duration.ofHours(outputHours),
        Duration.ofHours(checkHours),
        Duration.ofHours(surgeryHours),
        new BigDecimal("0.5"),
        UrineReading.MEAN);
  }
}
