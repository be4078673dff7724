package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.candidate.Outcome.Added;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.candidate.Outcome.NoCriterion;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * WIN-1 to WIN-10. The admission is on 2024-06-01, so that hospital day 5 is 06-05; the patient has
 * no catheter and is 40. Sources: CDC, NHSN FAQs: Miscellaneous (published) for WIN-1 to WIN-3; the
 * worked cases WC1 to WC7 are derived from rules P1 to P9.
 *
 * <p>Rules WINDOW-1, EVENT-1, POA-1, REPEAT-1 and SECOND-1.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WindowCheckValuesTest {
  private final Patient patient = Patient.admitted();

  @Test
  @DisplayName("WIN-1: culture on day 5, window days 2 to 8 (rule P1; published)")
  void window() {
    assertThat(patient.assess("culture 06-05").window()).isEqualTo(days(2, 8));
  }

  @Test
  @DisplayName("WIN-2: date of event on day 1, timeframe days 1 to 14 (rule P6; published)")
  void timeframe() {
    NewCandidate found = patient.candidate("culture 06-01; temperature 06-01 38.5 Cel");

    assertThat(found.dateOfEvent().date()).isEqualTo(day(1));
    assertThat(found.timeframe()).isEqualTo(days(1, 14));
  }

  @Test
  @DisplayName("WIN-3: present on day 1, new organism 10 days later is added (rule P6; published)")
  void added() {
    List<Assessment> both =
        patient.assessments(
            "culture 06-01; temperature 06-01 38.5 Cel;"
                + " culture 06-11 Klebsiella pneumoniae bacterium 100000;"
                + " temperature 06-11 38.5 Cel");

    NewCandidate first = (NewCandidate) both.get(0).outcome();
    assertThat(first.onset()).isEqualTo(Onset.PRESENT_ON_ADMISSION);
    Added second = (Added) both.get(1).outcome();
    assertThat(second.to().dateOfEvent()).isEqualTo(day(1));
    assertThat(second.timeframe()).isEqualTo(days(1, 14));
    assertThat(second.organisms())
        .extracting(Organism::name)
        .containsExactly("Klebsiella pneumoniae");
  }

  @Test
  @DisplayName("WIN-4 (WC1): culture day 5, fever day 4")
  void fever_before_the_culture() {
    NewCandidate found = patient.candidate("culture 06-05; temperature 06-04 38.5 Cel");

    assertThat(found.dateOfEvent().date()).isEqualTo(day(4));
    assertThat(found.onset()).isEqualTo(Onset.HEALTHCARE_ASSOCIATED);
    assertThat(found.timeframe()).isEqualTo(days(4, 17));
    assertThat(found.attributionPeriod()).isEqualTo(days(2, 17));
    assertThat(found.attributionPeriod().days()).isEqualTo(16);
  }

  @Test
  @DisplayName("WIN-5 (WC2): culture day 5, fever day 7")
  void fever_after_the_culture() {
    NewCandidate found = patient.candidate("culture 06-05; temperature 06-07 38.5 Cel");

    assertThat(found.dateOfEvent().date()).isEqualTo(day(5));
    assertThat(found.onset()).isEqualTo(Onset.HEALTHCARE_ASSOCIATED);
    assertThat(found.timeframe()).isEqualTo(days(5, 18));
    assertThat(found.attributionPeriod()).isEqualTo(days(2, 18));
    assertThat(found.attributionPeriod().days()).isEqualTo(17);
  }

  @Test
  @DisplayName("WIN-6 (WC3): culture day 5, fever on day 1 only: not met")
  void fever_before_the_window() {
    assertThat(patient.assess("culture 06-05; temperature 06-01 38.5 Cel").outcome())
        .isInstanceOf(NoCriterion.class);
  }

  @Test
  @DisplayName("WIN-7 (WC4): culture day 5, fever on day 9 only: not met")
  void fever_after_the_window() {
    assertThat(patient.assess("culture 06-05; temperature 06-09 38.5 Cel").outcome())
        .isInstanceOf(NoCriterion.class);
  }

  @Test
  @DisplayName("WIN-8 (WC5): culture day 2, fever on the day before admission")
  void fever_before_the_admission() {
    String given = "culture 06-02; temperature 05-31 38.5 Cel";
    NewCandidate found = patient.candidate(given);

    assertThat(patient.assess(given).window()).isEqualTo(days(-2, 5));
    assertThat(found.dateOfEvent().firstElement()).isEqualTo(day(-1));
    assertThat(found.dateOfEvent().date()).isEqualTo(day(1));
    assertThat(found.onset()).isEqualTo(Onset.PRESENT_ON_ADMISSION);
    assertThat(found.ward()).isEmpty();
  }

  @Test
  @DisplayName("WIN-9 (WC6): event of day 4, new date of event on day 17: added")
  void last_day_of_the_timeframe() {
    Added found =
        (Added)
            patient
                .assess(
                    "event 06-04 Escherichia coli;"
                        + " culture 06-17 Proteus mirabilis bacterium 100000;"
                        + " temperature 06-17 38.5 Cel")
                .outcome();

    assertThat(found.dateOfEvent().date()).isEqualTo(day(17));
    assertThat(found.timeframe()).isEqualTo(days(4, 17));
    assertThat(found.organisms()).extracting(Organism::name).containsExactly("Proteus mirabilis");
  }

  @Test
  @DisplayName("WIN-10 (WC7): event of day 4, new date of event on day 18: a new event")
  void day_after_the_timeframe() {
    NewCandidate found =
        patient.candidate(
            "event 06-04 Escherichia coli; culture 06-18; temperature 06-18 38.5 Cel");

    assertThat(found.dateOfEvent().date()).isEqualTo(day(18));
    assertThat(found.timeframe()).isEqualTo(days(18, 31));
  }

  private static DateRange days(int first, int last) {
    return new DateRange(day(first), day(last));
  }

  /** There is no day 0. */
  private static LocalDate day(int number) {
    return LocalDate.parse("2024-06-01").plusDays(number < 0 ? number : number - 1L);
  }
}
