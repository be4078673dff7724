package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.FlagCode;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Contract, section 4: one instant, several events. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class OneInstantTest {

  @Test
  void admitted_transferred_inserted_exchanged_all_else_removed_discharged() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 discharged               id=1
            06-01 10:00 removed c2               id=2
            06-01 10:00 checked c2               id=3
            06-01 10:00 exchanged c1 c2          id=4
            06-01 10:00 inserted c1              id=5
            06-01 10:00 transferred B            id=6
            06-01 10:00 admitted A               id=7
            """);

    List<BedsideEvent> reversed = new ArrayList<>(patient.events());
    Collections.reverse(reversed);
    assertThat(patient.timeline().events()).isEqualTo(reversed);
    assertThat(patient.remarks()).isEqualTo("MOVEMENTS_AT_ONE_INSTANT");
  }

  @Test
  void then_by_source_then_by_event_id_by_code_point() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 weighed 1 source=b id=1
            06-01 10:00 weighed 2 source=a id=a
            06-01 10:00 weighed 3 source=a id=B
            06-01 10:00 weighed 4 source=a id=10
            06-01 10:00 weighed 5 source=a id=9
            06-01 10:00 weighed 6 source=Z id=z
            """);

    assertThat(patient.timeline().weights())
        .extracting(weight -> weight.kg().toString())
        .containsExactly("6", "4", "5", "3", "2", "1");
  }

  @Test
  void of_two_transfers_the_last_says_where_the_patient_is() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 00:00 transferred B id=x1
            06-02 00:00 transferred C id=x2
            """);

    assertThat(patient.wardDays("B", "00:00", "06-02", "06-02"))
        .isEqualTo("06-02 patients 0 catheters 0");
    assertThat(patient.wardDays("C", "00:00", "06-02", "06-02"))
        .isEqualTo("06-02 patients 1 catheters 0");
    assertThat(patient.wardOf("06-03", "06-03 12:00")).isEqualTo("C");
  }

  @Test
  void handed_over_from_stay_to_stay_the_catheter_stays_in() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged
            06-02 10:00 admitted B stay=E2
            """);

    assertThat(patient.timeline().catheterDayAt(patient.instant("06-02 10:00"))).isTrue();
    assertThat(patient.flags(FlagCode.REMOVAL_NOT_RECORDED, "06-02 10:00")).isEmpty();
    assertThat(patient.remarks())
        .isEqualTo("STAY_ENDED_BY_NEXT_ADMISSION\nMOVEMENT_AFTER_STAY_ENDED");
  }

  @Test
  void removed_as_the_patient_leaves_nothing_is_missing() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 discharged
            06-02 10:00 removed c1
            """);

    assertThat(patient.flags("06-02 10:00")).isEmpty();
    assertThat(patient.remarks()).isEmpty();
  }

  @Test
  void of_two_reviews_the_last_decides_and_the_first_leaves_no_flag() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1
            06-02 10:00 reviewed c1 not-needed id=r1
            06-02 10:00 reviewed c1 still-needed id=r2
            """);

    assertThat(patient.flags(FlagCode.NO_ACCEPTED_INDICATION, "06-02 10:00")).isEmpty();
    assertThat(patient.history(FlagCode.NO_ACCEPTED_INDICATION)).isEmpty();
  }

  @Test
  void a_review_overruled_at_once_does_not_break_a_run() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1 for=incontinence-care
            06-02 10:00 reviewed c1 still-needed id=r1
            06-02 10:00 reviewed c1 not-needed id=r2
            """);

    assertThat(patient.flags(FlagCode.NO_ACCEPTED_INDICATION, "06-02 10:00"))
        .isEqualTo("c1 since 06-01 11:00");
  }
}
