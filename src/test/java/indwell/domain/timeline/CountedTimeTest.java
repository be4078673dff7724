package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.time.Span;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Which times are kept of a patient: each stay with the part of it throughout which a catheter that
 * counts is there (CDC form 57.118, rules C7, C8 and C11), cut where there are more such parts.
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
                    + span(patient, time.span())
                    + time.withCatheter().map(part -> ", with " + span(patient, part)).orElse(""))
        .collect(Collectors.joining("\n"));
  }

  private static String span(TimelineSentence patient, Span span) {
    return local(patient, span.start())
        + " to "
        + span.end().map(end -> local(patient, end)).orElse("now");
  }

  private static String local(TimelineSentence patient, Instant instant) {
    LocalDateTime at = patient.calendar().local(instant).toLocalDateTime();
    return at.toString().substring(5).replace('T', ' ');
  }

  @Test
  void a_stay_has_a_part_from_insertion_to_removal() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1
                06-03 10:00 removed c1
                """))
        .isEqualTo("A 06-01 08:00 to now, with 06-01 09:00 to 06-03 10:00");
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
        .isEqualTo(
            """
            A 06-01 08:00 to 06-02 08:00, with 06-01 08:00 to 06-02 08:00
            B 06-02 08:00 to 06-03 08:00, with 06-02 08:00 to 06-03 08:00""");
  }

  @Test
  void two_catheters_at_a_time_are_one_part() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1
                06-01 10:00 inserted c2
                06-01 11:00 removed c1
                06-01 12:00 removed c2
                """))
        .isEqualTo("A 06-01 08:00 to now, with 06-01 09:00 to 06-01 12:00");
  }

  @Test
  void where_another_catheter_comes_the_stay_is_cut() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1
                06-01 10:00 removed c1
                06-01 11:00 inserted c2
                06-01 11:30 removed c2
                06-01 12:00 inserted c3
                """))
        .isEqualTo(
            """
            A 06-01 08:00 to 06-01 11:00, with 06-01 09:00 to 06-01 10:00
            A 06-01 11:00 to 06-01 12:00, with 06-01 11:00 to 06-01 11:30
            A 06-01 12:00 to now, with 06-01 12:00 to now""");
  }

  @Test
  void what_does_not_count_makes_no_part() {
    assertThat(
            times(
                """
                06-01 08:00 admitted A
                06-01 09:00 inserted c1 suprapubic
                06-01 10:00 inserted c2 no-bag
                """))
        .isEqualTo("A 06-01 08:00 to now");
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
        .isEqualTo("A 06-01 10:00 to now, with 06-01 10:00 to now");
    assertThat(times("06-01 09:00 inserted c1")).isEmpty();
  }

  @Test
  void a_stay_of_no_length_is_no_time() {
    assertThat(times("06-01 08:00 admitted A\n06-01 08:00 transferred B"))
        .isEqualTo("B 06-01 08:00 to now");
  }
}
