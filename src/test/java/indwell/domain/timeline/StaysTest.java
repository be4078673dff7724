package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.Movement;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Contract, section 4: stays. Each test asserts the stays, the wards and the remarks. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class StaysTest {

  @Test
  void an_admission_opens_a_stay_and_its_own_discharge_ends_it() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 transferred B
            06-03 10:00 discharged
            """);

    assertThat(stays(patient))
        .isEqualTo("E1: A 06-01T10:00/06-02T10:00, B 06-02T10:00/06-03T10:00");
    assertThat(patient.remarks()).isEmpty();
  }

  @Test
  void a_transfer_without_an_admission_opens_the_stay() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-02 10:00 transferred B
            06-03 10:00 admitted A
            """);

    assertThat(stays(patient)).isEqualTo("E1: B 06-02T10:00/06-03T10:00, A 06-03T10:00/");
    assertThat(patient.remarks()).isEqualTo("STAY_WITHOUT_ADMISSION\nADMITTED_TWICE");
  }

  @Test
  void a_non_inpatient_admission_opens_the_stay() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted ER outpatient
            06-02 10:00 transferred A
            """);

    assertThat(patient.timeline().stays().get(0).start()).isEqualTo(patient.instant("06-01 10:00"));
    assertThat(patient.timeline().stays().get(0).firstInpatient().map(WardStay::ward))
        .hasToString("Optional[Ward[code=A]]");
  }

  @Test
  void inpatient_holds_until_the_next_movement() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 transferred A outpatient
            06-04 10:00 transferred A
            """);

    assertThat(patient.wardDays("A", "12:00", "06-01", "06-04"))
        .isEqualTo(
            """
            06-01 patients 1 catheters 0
            06-02 patients 0 catheters 0
            06-03 patients 0 catheters 0
            06-04 patients 1 catheters 0""");
  }

  @Test
  void the_admission_of_another_encounter_ends_a_stay_and_no_catheter() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-03 10:00 admitted B stay=E2
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/06-03T10:00\nE2: B 06-03T10:00/");
    assertThat(patient.timeline().stays().get(0).endedBy())
        .get()
        .isInstanceOf(Movement.Admission.class);
    assertThat(patient.remarks()).isEqualTo("STAY_ENDED_BY_NEXT_ADMISSION");
    assertThat(patient.timeline().catheterDayAt(patient.instant("06-03 10:00"))).isTrue();
    assertThat(patient.days("06-04 12:00"))
        .isEqualTo("06-03 day 1 present - B\n06-04 day 2 present - B");
  }

  @Test
  void ward_events_of_an_ended_stay_change_nothing() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 admitted B stay=E2
            06-02 11:00 inserted c1 stay=E2
            06-03 10:00 transferred C
            06-04 10:00 admitted D
            06-05 10:00 discharged
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/06-02T10:00\nE2: B 06-02T10:00/");
    assertThat(patient.timeline().catheterDayAt(patient.instant("06-06 10:00"))).isTrue();
    assertThat(patient.remarks())
        .isEqualTo(
            """
            STAY_ENDED_BY_NEXT_ADMISSION
            MOVEMENT_AFTER_STAY_ENDED
            MOVEMENT_AFTER_STAY_ENDED
            MOVEMENT_AFTER_STAY_ENDED""");
  }

  @Test
  void a_transfer_of_another_encounter_moves_the_patient_and_ends_no_stay() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 transferred B stay=E2
            06-03 10:00 transferred C
            """);

    assertThat(stays(patient))
        .isEqualTo("E1: A 06-01T10:00/06-02T10:00, C 06-03T10:00/\nE2: B 06-02T10:00/06-03T10:00");
    assertThat(patient.timeline().stays()).allMatch(stay -> stay.end().isEmpty());
    assertThat(patient.remarks()).isEqualTo("STAYS_OVERLAP\nSTAY_WITHOUT_ADMISSION\nSTAYS_OVERLAP");
  }

  @Test
  void the_discharge_of_an_overlapping_stay_leaves_the_patient_where_the_other_put_them() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 transferred B stay=E2
            06-03 10:00 discharged
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/06-02T10:00\nE2: B 06-02T10:00/");
    assertThat(patient.timeline().stays().get(0).end()).contains(patient.instant("06-03 10:00"));
    assertThat(patient.timeline().catheterDayAt(patient.instant("06-04 10:00"))).isTrue();
  }

  @Test
  void the_discharge_from_a_stay_that_had_not_begun_leaves_a_patient_in_their_ward() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged stay=E9
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/");
    assertThat(patient.timeline().catheterDayAt(patient.instant("06-03 10:00"))).isTrue();
    assertThat(patient.remarks()).isEqualTo("DISCHARGE_WITHOUT_STAY");
  }

  @Test
  void a_stay_discharged_before_it_began_is_opened_by_the_admission_that_follows() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 discharged
            06-02 10:00 admitted A
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-02T10:00/");
  }

  @Test
  void two_admissions_are_one_stay() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 admitted B
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/06-02T10:00, B 06-02T10:00/");
    assertThat(patient.remarks()).isEqualTo("ADMITTED_TWICE");
  }

  @Test
  void a_stay_admitted_and_discharged_at_one_instant_is_empty_and_has_two_dates() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 10:00 discharged
            """);

    assertThat(stays(patient)).isEqualTo("E1: A 06-01T10:00/06-01T10:00");
    assertThat(patient.timeline().wardAt(patient.instant("06-01 10:00"))).isEmpty();
    assertThat(patient.days("06-05 10:00")).isEqualTo("06-01 - - - A\n06-02 - - - A");
    assertThat(patient.wardDays("A", "10:00", "06-01", "06-01"))
        .isEqualTo("06-01 patients 0 catheters 0");
  }

  @Test
  void the_latest_stay_is_the_one_begun_last_at_or_before_the_instant() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 discharged
            06-05 10:00 admitted B stay=E2
            """);

    assertThat(patient.days("05-31 10:00")).isEmpty();
    assertThat(patient.days("06-05 09:59"))
        .isEqualTo("06-01 - - - A\n06-02 - - - A\n06-03 - - - A");
    assertThat(patient.days("06-05 10:00")).isEqualTo("06-05 - - - B");
  }

  /** A stay a line: its encounter and its wards, each with start and end. */
  private static String stays(TimelineSentence patient) {
    return patient.timeline().stays().stream()
        .map(
            stay ->
                stay.encounter().value()
                    + ": "
                    + stay.wards().stream()
                        .map(ward -> ward.ward().code() + " " + text(patient, ward))
                        .collect(Collectors.joining(", ")))
        .collect(Collectors.joining("\n"));
  }

  private static String text(TimelineSentence patient, WardStay ward) {
    return patient.calendar().local(ward.span().start()).toLocalDateTime().toString().substring(5)
        + "/"
        + ward.span()
            .end()
            .map(end -> patient.calendar().local(end).toLocalDateTime().toString().substring(5))
            .orElse("");
  }
}
