package indwell.domain.event;

import static indwell.domain.event.EventType.CARE_CHECKED;
import static indwell.domain.event.EventType.CATHETER_EXCHANGED;
import static indwell.domain.event.EventType.CATHETER_INSERTED;
import static indwell.domain.event.EventType.CATHETER_REMOVED;
import static indwell.domain.event.EventType.NEED_REVIEWED;
import static indwell.domain.event.EventType.PATIENT_ADMITTED;
import static indwell.domain.event.EventType.PATIENT_DISCHARGED;
import static indwell.domain.event.EventType.PATIENT_TRANSFERRED;
import static indwell.domain.event.EventType.SECUREMENT_CHANGED;
import static indwell.domain.event.EventType.SPECIMEN_COLLECTED;
import static indwell.domain.event.EventType.URINE_MEASURED;
import static indwell.domain.event.EventType.WEIGHT_MEASURED;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What an event says of itself, and how the values in it are ordered. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EventsSayTest {
  private static final TimelineSentence ONE_OF_EACH =
      TimelineSentence.of(
          """
          06-01 10:00 admitted A          stay=S1
          06-01 11:00 transferred B       stay=S1
          06-01 12:00 inserted c1         stay=S1
          06-01 13:00 exchanged c1 c2
          06-01 14:00 reviewed c2 still-needed
          06-01 15:00 securement c2
          06-01 16:00 checked c2
          06-01 17:00 urine 200           hours=2
          06-01 18:00 specimen c2
          06-01 19:00 weighed 70
          06-01 20:00 removed c2
          06-01 21:00 discharged          stay=S1
          """);

  @Test
  void its_type_its_key_and_its_time() {
    List<BedsideEvent> events = ONE_OF_EACH.events();

    assertThat(events)
        .extracting(BedsideEvent::type)
        .containsExactly(
            PATIENT_ADMITTED,
            PATIENT_TRANSFERRED,
            CATHETER_INSERTED,
            CATHETER_EXCHANGED,
            NEED_REVIEWED,
            SECUREMENT_CHANGED,
            CARE_CHECKED,
            URINE_MEASURED,
            SPECIMEN_COLLECTED,
            WEIGHT_MEASURED,
            CATHETER_REMOVED,
            PATIENT_DISCHARGED);
    for (BedsideEvent event : events) {
      assertThat(event.key()).isNotNull().isEqualTo(event.envelope().key());
      assertThat(event.at()).isNotNull().isEqualTo(event.envelope().occurredAt());
      assertThat(event.patient()).isNotNull().isEqualTo(event.envelope().patient());
    }
  }

  @Test
  void the_stay_it_names_and_the_catheter_it_is_about() {
    List<BedsideEvent> events = ONE_OF_EACH.events();

    assertThat(events)
        .extracting(event -> event.encounterNamed().map(BusinessId::value).orElse("-"))
        .containsExactly("S1", "S1", "S1", "-", "-", "-", "-", "-", "-", "-", "-", "S1");
    assertThat(events)
        .filteredOn(CatheterEvent.class::isInstance)
        .extracting(event -> ((CatheterEvent) event).catheter().value())
        .containsExactly("c1", "c1", "c2", "c2", "c2", "c2", "c2");
  }

  @Test
  void a_version_stated_says_what_its_event_says() {
    Instant at = Instant.parse("2024-06-01T10:00:00Z");
    EventKey key = new EventKey("desk", "a-1");
    BusinessId patient = new BusinessId("urn:p", "1");
    BedsideEvent event =
        new Movement.Discharge(
            new Envelope(key, 3, at, patient, Optional.empty()),
            new BusinessId("urn:s", "7"),
            Optional.empty());

    EventVersion version = new EventVersion.Stated(event);

    assertThat(version.key()).isEqualTo(key);
    assertThat(version.version()).isEqualTo(3);
    assertThat(version.patient()).isEqualTo(patient);
    assertThat(version.type()).isEqualTo(PATIENT_DISCHARGED);
  }

  /** Contract, section 4: by instant, then rank, then source, then event id. */
  @Test
  void the_timeline_reads_by_instant_then_rank_then_key() {
    Instant noon = Instant.parse("2024-06-01T12:00:00Z");

    assertThat(
            List.of(
                    movement("z", "z", noon, true),
                    movement("a", "b", noon, false),
                    movement("a", "a", noon, false),
                    movement("b", "a", noon, true),
                    movement("a", "c", noon.minusMillis(1), false))
                .stream()
                .sorted(BedsideEvent.TIMELINE_ORDER)
                .map(event -> event.key().token()))
        .containsExactly("a:c", "b:a", "z:z", "a:a", "a:b");
  }

  private static BedsideEvent movement(String source, String id, Instant at, boolean arrival) {
    Envelope envelope =
        new Envelope(
            new EventKey(source, id), 1, at, new BusinessId("urn:p", "1"), Optional.empty());
    BusinessId stay = new BusinessId("urn:s", "7");
    return arrival
        ? new Movement.Admission(envelope, stay, new Ward("A"), true)
        : new Movement.Discharge(envelope, stay, Optional.empty());
  }

  @Test
  void identifiers_are_ordered_by_their_first_part_then_by_their_second() {
    assertThat(new BusinessId("a", "2")).isLessThan(new BusinessId("b", "1"));
    assertThat(new BusinessId("a", "1")).isLessThan(new BusinessId("a", "2"));
    assertThat(new BusinessId("a", "1")).isEqualByComparingTo(new BusinessId("a", "1"));
    assertThat(new EventKey("a", "2")).isLessThan(new EventKey("b", "1"));
    assertThat(new EventKey("a", "1")).isLessThan(new EventKey("a", "2"));
    assertThat(new EventKey("a", "1")).isEqualByComparingTo(new EventKey("a", "1"));
    assertThat(new Ward("A")).isLessThan(new Ward("B"));
    assertThat(new CatheterId("c1")).isLessThan(new CatheterId("c2"));
  }

  @Test
  void tokens_are_those_of_a_search_and_of_the_event_identifier() {
    assertThat(new BusinessId("urn:p", "1").token()).isEqualTo("urn:p|1");
    assertThat(new EventKey("desk", "a:1").token()).isEqualTo("desk:a:1");
  }

  @Test
  void only_a_urethral_catheter_with_a_bag_counts_for_surveillance() {
    TimelineSentence kinds =
        TimelineSentence.of(
            """
            06-01 10:00 inserted c1
            06-01 11:00 inserted c2 suprapubic
            06-01 12:00 inserted c3 no-bag
            06-01 13:00 inserted c4 suprapubic no-bag
            """);

    assertThat(kinds.events())
        .extracting(event -> ((CatheterEvent.Insertion) event).placing().countsForSurveillance())
        .containsExactly(true, false, false, false);
  }
}
