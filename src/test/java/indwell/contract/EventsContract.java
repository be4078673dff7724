package indwell.contract;

import static indwell.contract.Samples.NOON;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.key;
import static indwell.contract.Samples.withdrawn;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore.HeldEvents;
import indwell.port.StoredEvent;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What it keeps of events. */
abstract class EventsContract extends StoreChecks {
  @Test
  void an_unknown_event_has_no_versions() {
    assertThat(now().versionsOf(key("E-404"))).isEmpty();
    assertThat(now().currentEvents("pat-404")).isEmpty();
  }

  @Test
  void a_version_comes_back_as_it_was_kept() {
    StoredEvent kept =
        new StoredEvent(
            key("E-11:a/b"),
            7,
            false,
            "pat-71",
            "{\"t\":\"Fr\u00fchdienst \ud83c\udfe5 'x'; -- \\\\ \\n \\u0000 \u2028 \t\"}",
            NOON,
            List.of("Procedure/p13", "Observation/o17"));
    append(kept, withdrawn("E-12", 1, "pat-71"));
    assertThat(now().versionsOf(key("E-11:a/b"))).containsExactly(kept);
    assertThat(now().versionsOf(key("E-12"))).containsExactly(withdrawn("E-12", 1, "pat-71"));
  }

  @Test
  void versions_ascend_whatever_order_they_arrive_in() {
    append(event("E-13", 3, "pat-71"));
    append(event("E-13", 1, "pat-71"));
    append(event("E-13", 2, "pat-71"));
    assertThat(now().versionsOf(key("E-13")))
        .containsExactly(
            event("E-13", 1, "pat-71"), event("E-13", 2, "pat-71"), event("E-13", 3, "pat-71"));
  }

  /** More than a database is asked for at once. */
  @Test
  void events_of_many_sources_are_found_together() {
    List<StoredEvent> kept =
        IntStream.range(0, 70)
            .mapToObj(i -> new EventKey("source-" + i, "E-1"))
            .map(key -> new StoredEvent(key, 1, false, "pat-71", "{}", NOON, List.of()))
            .toList();
    append(kept.toArray(StoredEvent[]::new));
    SortedSet<EventKey> keys = new TreeSet<>();
    kept.forEach(one -> keys.add(one.key()));
    assertThat(now().versionsOf(keys)).hasSize(70);
    HeldEvents held = store().write(w -> w.holdEvents(keys, Set.of()));
    assertThat(held.versions().values()).containsExactlyInAnyOrderElementsOf(each(kept));
  }

  private static List<List<StoredEvent>> each(List<StoredEvent> events) {
    return events.stream().map(List::of).toList();
  }

  @Test
  void the_highest_version_is_current_whatever_order_they_arrive_in() {
    append(event("E-14", 3, "pat-71"));
    append(event("E-14", 1, "pat-71"));
    append(event("E-15", 1, "pat-71"), event("E-15", 2, "pat-71"));
    assertThat(now().currentEvents("pat-71"))
        .containsExactlyInAnyOrder(event("E-14", 3, "pat-71"), event("E-15", 2, "pat-71"));
  }

  @Test
  void the_same_event_id_of_another_source_is_another_event() {
    StoredEvent other =
        new StoredEvent(new EventKey("monitor", "E-16"), 1, false, "pat-71", "{}", NOON, List.of());
    append(event("E-16", 5, "pat-71"), other);
    assertThat(now().currentEvents("pat-71")).hasSize(2).contains(other);
  }

  @Test
  void a_withdrawn_event_is_not_current_until_a_higher_version_revives_it() {
    append(event("E-17", 1, "pat-71"), withdrawn("E-17", 2, "pat-71"));
    assertThat(now().currentEvents("pat-71")).isEmpty();
    append(event("E-17", 3, "pat-71"));
    assertThat(now().currentEvents("pat-71")).containsExactly(event("E-17", 3, "pat-71"));
  }

  @Test
  void a_withdrawal_that_arrives_first_keeps_the_lower_version_out() {
    append(withdrawn("E-18", 2, "pat-71"));
    append(event("E-18", 1, "pat-71"));
    assertThat(now().currentEvents("pat-71")).isEmpty();
  }

  @Test
  void an_event_whose_highest_version_names_another_patient_leaves_the_old_one() {
    append(event("E-19", 1, "pat-71"));
    append(event("E-19", 2, "pat-72"));
    append(event("E-20", 2, "pat-72"));
    append(event("E-20", 1, "pat-71"));
    assertThat(now().currentEvents("pat-71")).isEmpty();
    assertThat(now().currentEvents("pat-72"))
        .containsExactlyInAnyOrder(event("E-19", 2, "pat-72"), event("E-20", 2, "pat-72"));
  }

  @Test
  void many_patients_are_read_at_once_and_those_without_events_are_left_out() {
    append(event("E-21", 1, "pat-71"), event("E-22", 1, "pat-72"));
    assertThat(now().currentEvents(List.of("pat-71", "pat-72", "pat-73")))
        .isEqualTo(
            Map.of(
                "pat-71", List.of(event("E-21", 1, "pat-71")),
                "pat-72", List.of(event("E-22", 1, "pat-72"))));
    assertThat(now().currentEvents(List.<String>of())).isEmpty();
  }

  @Test
  void a_version_that_is_there_already_is_refused_and_stays() {
    append(event("E-23", 1, "pat-71"));
    assertThatThrownBy(() -> append(event("E-23", 1, "pat-72")))
        .isInstanceOf(IllegalStateException.class)
        .hasMessageEndingWith("is there already.");
    assertThat(now().versionsOf(key("E-23"))).containsExactly(event("E-23", 1, "pat-71"));
  }
}
