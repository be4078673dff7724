package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Where an event of a date is attributed. Source: NHSN manual chapter 2, Location of Attribution
 * and Transfer Rule (rules L1 to L3; restated, Taiwan CDC); cases LC1 to LC3 are derived from them.
 *
 * <p>Rules ATT-1.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AttributionTest {

  @Test
  @DisplayName("LOC-4 (LC1): A to B on 06-10 (rules L1, L2)")
  void one_transfer() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-08 10:00 admitted A
            06-10 10:00 transferred B
            """);

    assertThat(wards(patient, "06-13 12:00", "06-10", "06-11", "06-12")).isEqualTo("A A B");
  }

  @Test
  @DisplayName("LOC-5 (LC2): A to B to C on 06-10 (rules L1 to L3)")
  void two_transfers_on_one_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-08 10:00 admitted A
            06-10 09:00 transferred B
            06-10 15:00 transferred C
            """);

    assertThat(wards(patient, "06-13 12:00", "06-10", "06-11", "06-12")).isEqualTo("A A C");
  }

  @Test
  @DisplayName("LOC-6 (LC3): discharged 06-10, the next date is the last (rule L2)")
  void discharged() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-08 10:00 admitted A
            06-10 10:00 discharged
            """);

    assertThat(wards(patient, "06-13 12:00", "06-10", "06-11", "06-12")).isEqualTo("A A -");
  }

  @Test
  void on_the_first_inpatient_date_the_first_inpatient_ward_of_that_date() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 22:00 admitted ER outpatient
            06-02 09:00 transferred A
            06-02 15:00 transferred B
            """);

    assertThat(wards(patient, "06-04 12:00", "06-01", "06-02", "06-03", "06-04"))
        .isEqualTo("- A A B");
  }

  @Test
  void a_transfer_at_midnight_leaves_nothing_of_the_date_to_the_old_ward() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-08 10:00 admitted A
            06-10 00:00 transferred B
            """);

    assertThat(wards(patient, "06-12 12:00", "06-10", "06-11")).isEqualTo("A B");
  }

  @Test
  void a_non_inpatient_area_on_the_day_before_is_passed_over() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 transferred DIALYSIS outpatient
            06-02 15:00 transferred B
            """);

    assertThat(wards(patient, "06-04 12:00", "06-02", "06-03", "06-04")).isEqualTo("A A B");
  }

  @Test
  void nowhere_when_the_day_before_had_no_inpatient_ward_at_all() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 20:00 transferred HOSTEL outpatient
            06-03 10:00 transferred B
            """);

    assertThat(wards(patient, "06-04 12:00", "06-02", "06-03", "06-04")).isEqualTo("A - B");
  }

  @Test
  void never_from_an_earlier_stay() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 discharged
            06-02 12:00 admitted B stay=E2
            """);

    assertThat(wards(patient, "06-03 12:00", "06-02", "06-03")).isEqualTo("B B");
  }

  private static String wards(TimelineSentence patient, String asOf, String... dates) {
    StringBuilder wards = new StringBuilder();
    for (String date : dates) {
      wards.append(wards.isEmpty() ? "" : " ").append(patient.wardOf(date, asOf));
    }
    return wards.toString();
  }
}
