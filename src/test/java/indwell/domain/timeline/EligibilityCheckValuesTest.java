package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The published and derived cases of the eligibility count. Sources: NHSN manual chapter 7,
 * Definitions and figure 1 "Associating Catheter Use to UTI" (the cells of the figure from memory);
 * the worked cases EC1 to EC8 are derived from rules E1 to E9.
 *
 * <p>Rules ELI-1, ELI-2 and ELI-3.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EligibilityCheckValuesTest {

  @Test
  @DisplayName("ELIG-1: patient A, replaced on the day after removal (NHSN chapter 7, figure 1)")
  void patient_a() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            03-29 10:00 admitted W1
            03-30 10:00 inserted c1
            04-02 10:00 removed c1
            04-03 10:00 inserted c2
            04-05 10:00 removed c2
            """);

    assertThat(patient.days("04-08 12:00"))
        .isEqualTo(
            """
            03-29 - - - W1
            03-30 day 1 present - W1
            03-31 day 2 present - W1
            04-01 day 3 present eligible W1
            04-02 day 4 present eligible W1
            04-03 day 5 present eligible W1
            04-04 day 6 present eligible W1
            04-05 day 7 present eligible W1
            04-06 - - eligible W1
            04-07 - - - W1
            04-08 - - - W1""");
  }

  @Test
  @DisplayName("ELIG-2: patient B, one full date without (NHSN chapter 7, figure 1)")
  void patient_b() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            03-29 10:00 admitted W1
            03-30 10:00 inserted c1
            04-02 10:00 removed c1
            04-04 10:00 inserted c2
            """);

    assertThat(patient.days("04-07 12:00"))
        .isEqualTo(
            """
            03-29 - - - W1
            03-30 day 1 present - W1
            03-31 day 2 present - W1
            04-01 day 3 present eligible W1
            04-02 day 4 present eligible W1
            04-03 - - eligible W1
            04-04 day 1 present - W1
            04-05 day 2 present - W1
            04-06 day 3 present eligible W1
            04-07 day 4 present eligible W1""");
  }

  @Test
  @DisplayName("ELIG-3 (EC1): out on day 2, never eligible (rule E4)")
  void removed_on_day_two() {
    assertThat(
            eligible(
                """
                06-01 10:00 inserted c1
                06-02 10:00 removed c1
                """))
        .isEmpty();
  }

  @Test
  @DisplayName("ELIG-4 (EC2): out on day 3, that date and the next (rules E2, E3)")
  void removed_on_day_three() {
    assertThat(
            eligible(
                """
                06-01 10:00 inserted c1
                06-03 10:00 removed c1
                """))
        .isEqualTo("06-03 06-04");
  }

  @Test
  @DisplayName("ELIG-5 (EC3): placed elsewhere, day 1 is the first inpatient date (rule E5)")
  void placed_elsewhere() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            05-01 10:00 inserted c1 before-admission
            06-02 10:00 admitted W1
            06-06 10:00 removed c1
            """);

    assertThat(patient.eligibleDates("06-10 12:00")).isEqualTo("06-04 06-05 06-06 06-07");
    assertThat(patient.days("06-02 12:00")).isEqualTo("06-02 day 1 present - W1");
  }

  @Test
  @DisplayName("ELIG-6 (EC4): a new one on the day of removal resets nothing (rule E7)")
  void replaced_on_the_same_day() {
    assertThat(
            eligible(
                """
                06-01 10:00 inserted c1
                06-04 10:00 removed c1
                06-04 15:00 inserted c2
                06-07 10:00 removed c2
                """))
        .isEqualTo("06-03 06-04 06-05 06-06 06-07 06-08");
  }

  @Test
  @DisplayName("ELIG-7 (EC5): a full date without restarts the count (rule E6)")
  void full_date_without() {
    assertThat(
            eligible(
                """
                06-01 10:00 inserted c1
                06-03 10:00 removed c1
                06-05 10:00 inserted c2
                """))
        .isEqualTo("06-03 06-04 06-07 06-08 06-09 06-10");
  }

  @Test
  @DisplayName(
      "ELIG-8 (EC6): in at 23:55, date three begins after 24 hours and 5 minutes (rule E9)")
  void dates_not_hours() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 admitted W1
            06-01 23:55 inserted c1
            """);

    assertThat(patient.eligibleDates("06-03 00:05")).isEqualTo("06-03");
  }

  @Test
  @DisplayName("ELIG-9 (EC7): suprapubic only, never (rule C3)")
  void suprapubic_only() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 admitted W1
            06-01 10:00 inserted c1 suprapubic
            """);

    assertThat(patient.days("06-03 12:00"))
        .isEqualTo("06-01 - - - W1\n06-02 - - - W1\n06-03 - - - W1");
  }

  @Test
  @DisplayName("ELIG-10 (EC8): suprapubic and urethral, as the urethral alone (rule C3)")
  void suprapubic_and_urethral() {
    String urethral =
        """
        06-02 10:00 inserted c1
        06-05 10:00 removed c1
        """;

    assertThat(eligible("06-01 10:00 inserted s1 suprapubic\n" + urethral))
        .isEqualTo(eligible(urethral))
        .isEqualTo("06-04 06-05 06-06");
  }

  @Test
  @DisplayName("ELIG-11: an event on IUC day 2 is not device-associated (rule E8)")
  void day_two_is_not_eligible() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 admitted W1
            06-01 10:00 inserted c1
            """);

    assertThat(patient.days("06-02 23:59")).endsWith("06-02 day 2 present - W1");
  }

  @Test
  @DisplayName("ELIG-12: after one full calendar day without, the new date is day 1 (rule E6)")
  void day_one_again() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 admitted W1
            06-01 10:00 inserted c1
            06-02 00:00 removed c1
            06-04 23:59 inserted c2
            """);

    assertThat(patient.days("06-04 23:59"))
        .isEqualTo(
            """
            06-01 day 1 present - W1
            06-02 day 2 present - W1
            06-03 - - - W1
            06-04 day 1 present - W1""");
  }

  /** Admission on 06-01 unless said; asked on 06-10. */
  private static String eligible(String catheters) {
    return TimelineSentence.of("06-01 08:00 admitted W1\n" + catheters)
        .eligibleDates("06-10 12:00");
  }
}
