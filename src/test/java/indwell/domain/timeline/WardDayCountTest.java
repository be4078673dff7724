package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.TimelineSentence;
import indwell.domain.event.Ward;
import java.time.LocalTime;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The denominator. Sources: CDC form 57.118 (published): once a day, at the same time of day, the
 * patients on the unit and how many of them have a urinary catheter; rules C4, C8, C9, C11, C12.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardDayCountTest {

  @Test
  void what_starts_exactly_at_the_count_time_counts_and_what_ends_then_does_not() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 12:00 admitted A
            06-02 12:00 inserted c1
            06-03 12:00 removed c1
            06-04 12:00 transferred B
            06-05 12:00 discharged
            """);

    assertThat(patient.wardDays("A", "12:00", "05-31", "06-05"))
        .isEqualTo(
            """
            05-31 patients 0 catheters 0
            06-01 patients 1 catheters 0
            06-02 patients 1 catheters 1
            06-03 patients 1 catheters 0
            06-04 patients 0 catheters 0
            06-05 patients 0 catheters 0""");
    assertThat(patient.wardDays("B", "12:00", "06-04", "06-05"))
        .isEqualTo("06-04 patients 1 catheters 0\n06-05 patients 0 catheters 0");
  }

  @Test
  void a_millisecond_to_either_side() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00:00.001 admitted A
            06-03 00:00:00.001 discharged
            """);

    assertThat(patient.wardDays("A", "00:00", "06-01", "06-04"))
        .isEqualTo(
            """
            06-01 patients 0 catheters 0
            06-02 patients 1 catheters 0
            06-03 patients 1 catheters 0
            06-04 patients 0 catheters 0""");
  }

  @Test
  void put_in_and_taken_out_between_two_count_times_it_adds_nothing() {
    assertThat(
            TimelineSentence.of(
                    """
                    06-01 08:00 admitted A
                    06-01 12:01 inserted c1
                    06-02 11:59 removed c1
                    """)
                .wardDays("A", "12:00", "06-01", "06-02"))
        .isEqualTo("06-01 patients 1 catheters 0\n06-02 patients 1 catheters 0");
  }

  @Test
  void two_catheters_are_one_catheter_day() {
    assertThat(
            TimelineSentence.of(
                    """
                    06-01 08:00 admitted A
                    06-01 09:00 inserted c1
                    06-01 10:00 inserted c2
                    """)
                .wardDays("A", "12:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 1 catheters 1");
  }

  @Test
  void neither_suprapubic_nor_without_a_bag() {
    assertThat(
            TimelineSentence.of(
                    """
                    06-01 08:00 admitted A
                    06-01 09:00 inserted c1 suprapubic
                    06-01 10:00 inserted c2 no-bag
                    """)
                .wardDays("A", "12:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 1 catheters 0");
  }

  @Test
  void a_transferred_patient_counts_where_they_are_at_the_count_time() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 08:00 admitted A
            06-01 09:00 inserted c1
            06-02 11:59 transferred B
            """);

    assertThat(patient.wardDays("A", "12:00", "06-01", "06-02"))
        .isEqualTo("06-01 patients 1 catheters 1\n06-02 patients 0 catheters 0");
    assertThat(patient.wardDays("B", "12:00", "06-01", "06-02"))
        .isEqualTo("06-01 patients 0 catheters 0\n06-02 patients 1 catheters 1");
  }

  @Test
  void outside_the_range_nothing_is_counted_and_a_ward_not_asked_for_is_left_out() {
    TimelineSentence patient = TimelineSentence.of("05-01 08:00 admitted A");

    assertThat(patient.wardDays("A", "00:00", "06-01", "06-02"))
        .isEqualTo("06-01 patients 1 catheters 0\n06-02 patients 1 catheters 0");
    assertThat(patient.wardDays("B", "00:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 0 catheters 0");
  }

  @Test
  void every_ward_counts_at_its_own_time_and_patients_add_up() {
    TimelineSentence early = TimelineSentence.of("06-01 05:00 admitted A\n06-01 05:00 inserted c1");
    TimelineSentence late =
        TimelineSentence.of("06-01 07:00 admitted A\n06-01 10:00 transferred B");
    WardDayCount count =
        new WardDayCount(
            early.calendar(),
            (ward, date) -> ward.code().equals("A") ? LocalTime.of(6, 0) : LocalTime.of(11, 0),
            List.of(new Ward("A"), new Ward("B")),
            early.calendar().dateOf(early.instant("06-01 00:00")),
            early.calendar().dateOf(early.instant("06-02 00:00")));
    count.add(early.timeline());
    count.add(late.timeline());

    assertThat(count.counts())
        .hasToString(
            "{Ward[code=A]={2024-06-01=DayCount[patientDays=1, catheterDays=1],"
                + " 2024-06-02=DayCount[patientDays=1, catheterDays=1]},"
                + " Ward[code=B]={2024-06-01=DayCount[patientDays=1, catheterDays=0],"
                + " 2024-06-02=DayCount[patientDays=1, catheterDays=0]}}");
  }

  @Test
  void catheter_days_never_exceed_patient_days() {
    assertThatThrownBy(() -> new DayCount(1, 2))
        .hasMessage("Catheter days 2 are not within 0 and patient days 1");
    assertThatThrownBy(() -> new DayCount(1, -1)).isInstanceOf(IllegalArgumentException.class);
    assertThat(new DayCount(3, 2).plus(new DayCount(4, 1))).isEqualTo(new DayCount(7, 3));
  }
}
