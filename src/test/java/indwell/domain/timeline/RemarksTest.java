package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.EventKey;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What is doubtful is said, with the events that disagree; the other remarks stand in their tests.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RemarksTest {

  @Test
  void a_remark_names_its_events_the_doubtful_one_first() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1 id=first
            06-02 11:00 inserted c1 id=second
            """);

    assertThat(patient.timeline().remarks())
        .singleElement()
        .satisfies(
            remark -> {
              assertThat(remark.at()).isEqualTo(patient.instant("06-02 11:00"));
              assertThat(remark.events())
                  .containsExactly(
                      new EventKey("ward-system", "second"), new EventKey("ward-system", "first"));
              assertThat(remark.sentence())
                  .isEqualTo("Catheter c1 was in place already; this insertion changes nothing.");
            });
  }

  @Test
  void of_two_insertions_at_one_instant_the_remark_is_about_the_one_that_does_not_hold() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 inserted c1 id=first
            06-01 11:00 inserted c1 id=last
            """);

    assertThat(eventsOf(patient)).isEqualTo("INSERTION_OF_CATHETER_IN_PLACE first last");
    assertThat(patient.timeline().remarks().get(0).sentence())
        .isEqualTo(
            "Catheter c1 was put in by another event of the same instant too, which decides as the"
                + " last in timeline order; this one changes nothing.");
  }

  @Test
  void of_two_discharges_at_one_instant_the_remark_names_both() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 11:00 discharged id=first
            06-02 11:00 discharged with-catheter id=last
            """);

    assertThat(eventsOf(patient)).isEqualTo("MOVEMENTS_AT_ONE_INSTANT last first");
  }

  @Test
  void a_movement_of_an_ended_stay_is_told_with_what_ended_it() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-02 10:00 discharged id=end
            06-03 10:00 transferred B id=late
            """);

    assertThat(eventsOf(patient)).isEqualTo("MOVEMENT_AFTER_STAY_ENDED late end");
  }

  @Test
  void stays_that_overlap_are_told_with_both_movements() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A id=one
            06-02 10:00 transferred B id=other stay=E2
            """);

    assertThat(eventsOf(patient).lines()).contains("STAYS_OVERLAP other one");
  }

  @Test
  void movements_of_one_instant_are_told_together() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A id=one
            06-01 10:00 transferred B id=other
            """);

    assertThat(eventsOf(patient)).isEqualTo("MOVEMENTS_AT_ONE_INSTANT other one");
  }

  /** Each remark as its code and the ids of its events. */
  private static String eventsOf(TimelineSentence patient) {
    return patient.timeline().remarks().stream()
        .map(
            remark ->
                remark.code()
                    + remark.events().stream()
                        .map(event -> " " + event.eventId())
                        .collect(Collectors.joining()))
        .collect(Collectors.joining("\n"));
  }

  @Test
  void facts_about_a_catheter_that_is_not_in_place() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 10:00 admitted A
            06-01 11:00 reviewed c1 not-needed
            06-01 12:00 checked c1
            06-01 13:00 securement c1
            06-01 14:00 specimen c1
            06-01 15:00 urine 100 hours=1 catheter=c1
            06-01 15:00 urine 100 hours=1
            """);

    assertThat(patient.remarks().lines()).hasSize(5).containsOnly("FACT_OF_CATHETER_NOT_IN_PLACE");
    assertThat(patient.timeline().urine()).hasSize(2);
  }

  @Test
  void facts_about_a_resting_catheter_are_no_contradiction() {
    assertThat(
            TimelineSentence.of(
                    """
                    06-01 10:00 admitted A
                    06-01 11:00 inserted c1
                    06-02 11:00 discharged with-catheter
                    06-03 11:00 securement c1
                    """)
                .remarks())
        .isEmpty();
  }

  @Test
  void a_clean_history_has_none() {
    assertThat(
            TimelineSentence.of(
                    """
                    06-01 10:00 admitted A
                    06-01 10:00 inserted c1
                    06-02 10:00 reviewed c1 still-needed
                    06-03 10:00 exchanged c1 c2
                    06-04 10:00 removed c2
                    06-04 10:00 discharged
                    """)
                .remarks())
        .isEmpty();
  }
}
