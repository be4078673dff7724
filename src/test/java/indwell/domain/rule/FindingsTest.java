package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalTime;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What a flag says it found, and in which events, {@code e} with the number of their line. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FindingsTest {
  private static final String IN = "06-01 10:00 admitted A\n06-01 11:00 inserted c1";

  private static String found(TimelineSentence patient, FlagCode code, String asOf) {
    return patient.inForce(asOf).stream()
        .filter(span -> span.code() == code)
        .map(span -> line(span.trace()))
        .collect(Collectors.joining("\n"));
  }

  private static String line(Trace trace) {
    return trace.finding()
        + trace.facts().stream()
            .map(fact -> fact.key().eventId())
            .collect(Collectors.joining(" ", " [", "]"));
  }

  private static TimelineSentence patient(String... lines) {
    return TimelineSentence.of(IN + "\n" + String.join("\n", lines));
  }

  @Test
  void of_a_review_that_is_due() {
    assertThat(found(patient(), FlagCode.NEED_REVIEW_OVERDUE, "06-02 12:00"))
        .startsWith("No need review since the insertion at 2024-06-01T11:00")
        .contains("; it was due by 2024-06-02T12:00")
        .endsWith(". [e2]");
    assertThat(
            found(
                patient("06-02 09:00 reviewed c1 still-needed"),
                FlagCode.NEED_REVIEW_OVERDUE,
                "06-03 12:00"))
        .startsWith("No need review since the last one at 2024-06-02T09:00")
        .endsWith(". [e3]");
  }

  @Test
  void of_a_securement_that_is_due() {
    assertThat(found(patient(), FlagCode.SECUREMENT_CHANGE_OVERDUE, "06-09 00:00"))
        .isEqualTo("Securement applied on 2024-06-01; its last good day was 2024-06-08. [e2]");
  }

  @Test
  void of_an_output_that_is_due() {
    assertThat(found(patient(), FlagCode.OUTPUT_CHARTING_OVERDUE, "06-01 19:01"))
        .startsWith("Inserted at 2024-06-01T11:00")
        .endsWith("; more than 8 h ago without a measured output since. [e2]");
    assertThat(
            found(
                patient("06-01 12:00 urine 100 hours=1"),
                FlagCode.OUTPUT_CHARTING_OVERDUE,
                "06-01 20:01"))
        .startsWith("The last measured interval ended at 2024-06-01T12:00")
        .endsWith(" [e3]");
  }

  @Test
  void of_a_care_check_that_is_due_with_minutes_where_the_limit_has_some() {
    RuleSettings limits =
        new RuleSettings(
            LocalTime.NOON,
            7,
            Duration.ofHours(8),
            Duration.ofMinutes(90),
            Duration.ofHours(24),
            new BigDecimal("0.5"),
            UrineReading.MEAN);
    assertThat(found(patient().with(limits), FlagCode.CARE_CHECK_OVERDUE, "06-01 12:31"))
        .startsWith("Inserted at 2024-06-01T11:00")
        .endsWith("; more than 1 h 30 min ago without a check since. [e2]");
    assertThat(found(patient("06-01 12:00 checked c1"), FlagCode.CARE_CHECK_OVERDUE, "06-02 00:01"))
        .startsWith("The last care check was at 2024-06-01T12:00")
        .endsWith(" [e3]");
  }

  @Test
  void of_a_catheter_that_stayed_in_after_surgery() {
    assertThat(
            found(
                TimelineSentence.of("06-01 11:00 inserted c1 for=perioperative"),
                FlagCode.POSTOPERATIVE_REMOVAL_OVERDUE,
                "06-02 11:01"))
        .startsWith("Perioperative catheter, still in more than 24 h after 2024-06-01T11:00")
        .endsWith(". [e1]");
  }

  @Test
  void of_an_indication_that_is_not_accepted_and_the_event_that_the_run_began_with() {
    assertThat(
            found(
                TimelineSentence.of("06-01 11:00 inserted c1 for=incontinence-care"),
                FlagCode.NO_ACCEPTED_INDICATION,
                "06-01 12:00"))
        .isEqualTo(
            "The latest indication is incontinence-care, which the guideline does not accept. [e1]");
    assertThat(
            found(
                patient("06-02 09:00 reviewed c1 not-needed", "06-03 09:00 reviewed c1 not-needed"),
                FlagCode.NO_ACCEPTED_INDICATION,
                "06-03 12:00"))
        .isEqualTo("The last review said that the catheter is no longer needed. [e4 e3]");
  }

  @Test
  void of_a_balloon_that_is_not_filled_as_its_label_says() {
    assertThat(
            found(
                TimelineSentence.of("06-01 11:00 inserted c1 label=10 filled=7.5"),
                FlagCode.BALLOON_FILL_MISMATCH,
                "06-01 12:00"))
        .contains("7.5 mL", "10 mL");
  }

  @Test
  void every_flag_has_words_for_people() {
    for (FlagCode code : FlagCode.values()) {
      assertThat(code.display()).isNotBlank();
    }
    for (UrineReading reading : UrineReading.values()) {
      assertThat(UrineReading.ofCode(reading.code())).contains(reading);
    }
  }
}
