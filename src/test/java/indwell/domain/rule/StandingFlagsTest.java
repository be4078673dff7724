package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.Indication;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalTime;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** The flags that a fact raises at once, each one short, exact and one over. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class StandingFlagsTest {

  private static final String IN = "06-01 10:00 admitted A\n06-01 11:00 inserted c1 %s\n";

  private static TimelineSentence patient(String details, String... lines) {
    return TimelineSentence.of(IN.formatted(details) + String.join("\n", lines));
  }

  @Nested
  class Balloon {

    private static final FlagCode CODE = FlagCode.BALLOON_FILL_MISMATCH;

    @ParameterizedTest(name = "label {0} mL, filled {1} mL: flag {2}")
    @CsvSource({
      "10, 10, false",
      "10, 9.5, false",
      "10, 10.5, false",
      "10, 10.50, false",
      "10, 9.499, true",
      "10, 10.501, true",
      "10, 0, true",
      "5, 10, true",
    })
    void more_than_half_a_millilitre(String label, String filled, boolean flagged) {
      assertThat(patient("label=" + label + " filled=" + filled).history(CODE))
          .isEqualTo(flagged ? "c1 from 06-01 11:00" : "");
    }

    @Test
    void not_without_both_volumes() {
      assertThat(patient("filled=3").history(CODE)).isEmpty();
      assertThat(patient("label=10").history(CODE)).isEmpty();
    }

    @Test
    void from_the_insertion_itself_until_the_catheter_is_out() {
      TimelineSentence patient = patient("label=10 filled=5", "06-02 10:00 exchanged c1 c2");

      assertThat(patient.flags(CODE, "06-01 10:59")).isEmpty();
      assertThat(patient.flags(CODE, "06-01 11:00")).isEqualTo("c1 since 06-01 11:00");
      assertThat(patient.flags(CODE, "06-02 09:59")).isEqualTo("c1 since 06-01 11:00");
      assertThat(patient.flags(CODE, "06-02 10:00")).isEmpty();
    }

    @Test
    void a_ward_may_set_another_tolerance() {
      RuleSettings lenient =
          new RuleSettings(
              LocalTime.NOON,
              7,
              Duration.ofHours(8),
              Duration.ofHours(12),
              Duration.ofHours(24),
              new BigDecimal("2"),
              UrineReading.MEAN);

      assertThat(patient("label=10 filled=8").with(lenient).history(CODE)).isEmpty();
      assertThat(patient("label=10 filled=7.9").with(lenient).history(CODE)).isNotEmpty();
    }
  }

  @Nested
  class Accepted_indication {

    private static final FlagCode CODE = FlagCode.NO_ACCEPTED_INDICATION;

    @ParameterizedTest
    @EnumSource(Indication.class)
    void the_two_that_the_guideline_calls_inappropriate(Indication why) {
      // Source: HICPAC 2009, Table 2.
      boolean inappropriate =
          why.code().equals("incontinence-care") || why.code().equals("urine-sampling");

      assertThat(patient("for=" + why.code()).history(CODE))
          .isEqualTo(inappropriate ? "c1 from 06-01 11:00" : "");
    }

    @Test
    void no_longer_needed_by_the_last_review() {
      TimelineSentence patient =
          patient(
              "",
              "06-02 10:00 reviewed c1 not-needed",
              "06-03 10:00 reviewed c1 not-needed",
              "06-04 10:00 reviewed c1 still-needed");

      assertThat(patient.flags(CODE, "06-02 09:59")).isEmpty();
      assertThat(patient.flags(CODE, "06-02 10:00")).isEqualTo("c1 since 06-02 10:00");
      assertThat(patient.flags(CODE, "06-04 09:59")).isEqualTo("c1 since 06-02 10:00");
      assertThat(patient.flags(CODE, "06-04 10:00")).isEmpty();
    }

    @Test
    void from_the_first_event_of_the_unbroken_run() {
      assertThat(
              patient(
                      "for=urine-sampling",
                      "06-02 10:00 reviewed c1 still-needed for=incontinence-care",
                      "06-03 10:00 reviewed c1 not-needed")
                  .flags(CODE, "06-03 10:00"))
          .isEqualTo("c1 since 06-01 11:00");
      assertThat(
              patient(
                      "for=urine-sampling",
                      "06-02 10:00 reviewed c1 still-needed",
                      "06-03 10:00 reviewed c1 not-needed")
                  .history(CODE))
          .isEqualTo("c1 from 06-01 11:00 to 06-02 10:00\nc1 from 06-03 10:00");
    }

    @Test
    void an_inappropriate_indication_stands_after_a_review_without_one() {
      assertThat(
              patient(
                      "",
                      "06-02 10:00 reviewed c1 not-needed for=urine-sampling",
                      "06-03 10:00 reviewed c1 not-needed")
                  .history(CODE))
          .isEqualTo("c1 from 06-02 10:00");
    }

    @Test
    void an_exchange_states_anew_why() {
      assertThat(patient("for=urine-sampling", "06-02 10:00 exchanged c1 c2").history(CODE))
          .isEqualTo("c1 from 06-01 11:00 to 06-02 10:00");
    }

    @Test
    void reviews_of_another_catheter_or_of_an_earlier_placement_say_nothing() {
      assertThat(
              patient(
                      "",
                      "06-01 11:00 inserted c2 suprapubic",
                      "06-02 10:00 reviewed c2 not-needed",
                      "06-02 11:00 removed c2",
                      "06-02 12:00 inserted c2 suprapubic")
                  .history(CODE))
          .isEqualTo("c2 from 06-02 10:00 to 06-02 11:00");
    }
  }

  @Nested
  class Insertion_steps {

    private static final FlagCode CODE = FlagCode.INSERTION_STEPS_MISSING;

    @Test
    void one_not_done_is_missing() {
      assertThat(patient("steps=hand-hygiene:done,lubricant:not-done").flags(CODE, "06-01 11:00"))
          .isEqualTo("c1 since 06-01 11:00");
    }

    @Test
    void done_not_applicable_and_not_charted_are_not() {
      assertThat(patient("steps=hand-hygiene:done,lubricant:not-applicable").history(CODE))
          .isEmpty();
      assertThat(patient("").history(CODE)).isEmpty();
    }

    @Test
    void the_finding_names_them_in_bedside_order() {
      TimelineSentence patient = patient("steps=lubricant:not-done,hand-hygiene:not-done");

      assertThat(patient.inForce("06-01 11:00"))
          .extracting(span -> span.trace().finding())
          .containsExactly("Not done: hand-hygiene, lubricant.");
    }
  }

  @Nested
  class Removal_not_recorded {

    private static final FlagCode CODE = FlagCode.REMOVAL_NOT_RECORDED;

    @Test
    void from_the_discharge_until_a_removal_is_recorded() {
      TimelineSentence patient = patient("", "06-02 10:00 discharged", "06-04 10:00 removed c1");

      assertThat(patient.flags("06-02 09:59")).doesNotContain("removal-not-recorded");
      assertThat(patient.flags("06-02 10:00"))
          .isEqualTo("removal-not-recorded c1 since 06-02 10:00");
      assertThat(patient.flags("06-04 09:59"))
          .isEqualTo("removal-not-recorded c1 since 06-02 10:00");
      assertThat(patient.flags("06-04 10:00")).isEmpty();
    }

    @Test
    void or_an_exchange() {
      TimelineSentence patient =
          patient("", "06-02 10:00 discharged", "06-04 10:00 exchanged c1 c2 stay=E2");

      assertThat(patient.flags(CODE, "06-04 10:00")).isEmpty();
    }

    @Test
    void not_when_the_patient_left_with_it_on_purpose_nor_when_it_is_out() {
      assertThat(patient("", "06-02 10:00 discharged with-catheter").flags("06-05 10:00"))
          .isEmpty();
      assertThat(patient("", "06-02 09:00 removed c1", "06-02 10:00 discharged").history(CODE))
          .isEmpty();
    }

    @Test
    void for_each_catheter_whatever_its_kind() {
      TimelineSentence patient =
          patient(
              "suprapubic",
              "06-01 11:00 inserted c2 no-bag",
              "06-02 10:00 discharged",
              "06-03 10:00 removed c2");

      assertThat(patient.flags("06-02 10:00"))
          .isEqualTo(
              "removal-not-recorded c1 since 06-02 10:00\n"
                  + "removal-not-recorded c2 since 06-02 10:00");
      assertThat(patient.flags("06-03 10:00"))
          .isEqualTo("removal-not-recorded c1 since 06-02 10:00");
    }

    @Test
    void it_knows_the_discharging_ward() {
      TimelineSentence patient = patient("", "06-01 15:00 transferred B", "06-02 10:00 discharged");

      assertThat(patient.inForce("06-03 10:00"))
          .extracting(span -> span.catheter().end().orElseThrow().ward().orElseThrow().code())
          .containsExactly("B");
    }

    @Test
    void a_removal_recorded_later_but_done_before_leaves_no_flag() {
      TimelineSentence patient = patient("", "06-02 10:00 discharged", "06-02 09:59 removed c1");

      assertThat(patient.history(CODE)).isEmpty();
    }
  }

  @Nested
  class Overlap {

    private static final FlagCode CODE = FlagCode.OVERLAPPING_CATHETERS;

    @Test
    void two_urethral_catheters_each_from_the_later_insertion() {
      TimelineSentence patient =
          patient("", "06-01 12:00 inserted c2 no-bag", "06-01 13:00 removed c1");

      assertThat(patient.flags(CODE, "06-01 11:59")).isEmpty();
      assertThat(patient.flags(CODE, "06-01 12:00"))
          .isEqualTo("c1 since 06-01 12:00\nc2 since 06-01 12:00");
      assertThat(patient.flags(CODE, "06-01 13:00")).isEmpty();
    }

    @Test
    void one_removed_as_the_other_goes_in_overlaps_with_nothing() {
      TimelineSentence patient = patient("", "06-01 12:00 inserted c2", "06-01 12:00 removed c1");

      assertThat(patient.history(CODE)).isEmpty();
    }

    @Test
    void suprapubic_ones_overlap_with_nothing() {
      assertThat(
              patient(
                      "",
                      "06-01 12:00 inserted s1 suprapubic",
                      "06-01 12:00 inserted s2 suprapubic")
                  .history(CODE))
          .isEmpty();
    }

    @Test
    void of_three_the_first_pair_dates_the_flag_while_it_lasts() {
      TimelineSentence patient =
          patient(
              "", "06-01 12:00 inserted c2", "06-01 13:00 inserted c3", "06-01 14:00 removed c2");

      assertThat(patient.flags(CODE, "06-01 13:00"))
          .isEqualTo("c1 since 06-01 12:00\nc2 since 06-01 12:00\nc3 since 06-01 13:00");
      assertThat(patient.flags(CODE, "06-01 14:00"))
          .isEqualTo("c1 since 06-01 13:00\nc3 since 06-01 13:00");
    }

    @Test
    void after_a_rest_it_dates_from_the_later_insertion_still() {
      TimelineSentence patient =
          patient(
              "",
              "06-01 12:00 inserted c2",
              "06-02 10:00 discharged with-catheter",
              "06-04 10:00 admitted A stay=E2");

      assertThat(patient.flags(CODE, "06-03 10:00")).isEmpty();
      assertThat(patient.flags(CODE, "06-04 10:00"))
          .isEqualTo("c1 since 06-01 12:00\nc2 since 06-01 12:00");
    }

    @Test
    void one_put_in_while_the_other_rests_overlaps_when_that_comes_back() {
      TimelineSentence patient =
          patient(
              "",
              "06-02 10:00 discharged with-catheter",
              "06-03 10:00 inserted c2 stay=E2",
              "06-04 10:00 admitted A stay=E2");

      assertThat(patient.flags(CODE, "06-03 12:00")).isEmpty();
      assertThat(patient.flags(CODE, "06-04 10:00"))
          .isEqualTo("c1 since 06-04 10:00\nc2 since 06-04 10:00");
    }
  }
}
