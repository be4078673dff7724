package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Where time in a ward is cut. The denominator counts points, so a cut belongs at each instant from
 * which a catheter that counts is there or is not (CDC form 57.118, rules C7, C8 and C11).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CountedTimeTest {

  private static String times(String sentence) {
    TimelineSentence patient = TimelineSentence.of(sentence);
    return CountedTime.of(patient.timeline()).stream()
        .map(
            time ->
                time.ward().code()
                    + " "
                    + local(patient, time.span().start())
                    + " to "
                    + time.span().end().map(end -> local(patient, end)).orElse("now")
                    + (time.withCatheter() ? " with" : " without"))
        .collect(Collectors.joining("\n"));
  }

  private static String local(TimelineSentence patient, Instant instant) {
    LocalDateTime at = patient.calendar().local(instant).toLocalDateTime();
    return at.toString().substring(5).replace('T', ' ');
  }

  @Test
  void a_stay_is_cut_where_the_catheter_comes_and_goes() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1
                06-03 10:00 removed c1
                """))
        .isEqualTo(
            """
            A 06-01 08:00 to 06-01 09:00 without
            A 06-01 09:00 to 06-03 10:00 with
            A 06-03 10:00 to now without""");
  }

  @Test
  void a_movement_cuts_and_the_catheter_goes_along() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 08:00 inserted c1
                06-02 08:00 transferred B
                06-03 08:00 discharged
                """))
        .isEqualTo("A 06-01 08:00 to 06-02 08:00 with\nB 06-02 08:00 to 06-03 08:00 with");
  }

  @Test
  void two_catheters_at_a_time_and_one_after_the_other_are_one_time() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1
                06-01 10:00 inserted c2
                06-01 11:00 removed c1
                06-01 12:00 removed c2
                """))
        .isEqualTo(
            """
            A 06-01 08:00 to 06-01 09:00 without
            A 06-01 09:00 to 06-01 12:00 with
            A 06-01 12:00 to now without""");
  }

  @Test
  void what_does_not_count_cuts_nothing() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1 suprapubic
                06-01 10:00 inserted c2 no-bag
                """))
        .isEqualTo("A 06-01 08:00 to now without");
  }

  @Test
  void outside_an_inpatient_ward_nothing_counts() {
    assertThat(
            times(
                """
                06-01 08:00 admitted E outpatient
                06-01 09:00 inserted c1
                06-01 10:00 transferred A
                """))
        .isEqualTo("A 06-01 10:00 to now with");
    assertThat(times("06-01 09:00 inserted c1")).isEmpty();
  }

  @Test
  void a_stay_of_no_length_is_no_time() {
    assertThat(times("06-01 08:00 admitted A\n06-01 08:00 transferred B"))
        .isEqualTo("B 06-01 08:00 to now without");
  }
}
