package indwell.faults;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.event.EventKey;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The fault harness sees what it is there to see. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AftermathTest {
  private static final List<String> STORY = Story.of(4, 0);

  private static ClinicalStore told(List<String> bodies) {
    ClinicalStore store = new MemoryStore();
    RecordEvents events =
        new RecordEvents(
            store, new Sender.Passing(point -> {}), new MappingContext(ZoneOffset.UTC));
    bodies.forEach(
        body ->
            events.record(
                EventBodies.line(body.getBytes(StandardCharsets.UTF_8), Story.NOW), Story.NOW));
    return store;
  }

  private static Set<Aftermath.Kept> all(ClinicalStore store) {
    return STORY.stream()
        .map(Aftermath::key)
        .flatMap(key -> store.read(state -> state.versionsOf(key)).stream())
        .map(event -> new Aftermath.Kept(event.key(), event.version()))
        .collect(Collectors.toSet());
  }

  @Test
  void what_was_kept_is_found_and_nothing_is_amiss() {
    try (ClinicalStore store = told(STORY)) {
      Set<Aftermath.Kept> kept = all(store);

      Aftermath aftermath = Aftermath.of(store, kept, STORY);

      assertThat(kept).hasSizeGreaterThan(10);
      assertThat(aftermath).isEqualTo(new Aftermath(kept.size(), kept.size(), 0, 0, 0, 0, 0, 0, 0));
      assertThat(aftermath.sound()).isTrue();
    }
  }

  @Test
  void an_event_that_is_gone_is_lost() {
    try (ClinicalStore store = told(STORY)) {
      Aftermath aftermath =
          Aftermath.of(store, Set.of(new Aftermath.Kept(new EventKey("4-0", "gone"), 1)), STORY);

      assertThat(aftermath.lost()).isEqualTo(1);
      assertThat(aftermath.unaudited()).isEqualTo(1);
      assertThat(aftermath.sound()).isFalse();
    }
  }

  @Test
  void a_resource_that_no_event_makes_differs_and_its_identifier_stands_twice() {
    try (ClinicalStore store = told(STORY)) {
      StoredResource one = anyProcedure(store);
      String json = one.json().replace(one.key().id(), "another");
      store.write(
          tx -> {
            tx.put(
                new StoredResource(
                    new ResourceKey("Procedure", "another"),
                    1,
                    one.lastUpdated(),
                    one.patientId(),
                    one.identifiers(),
                    json));
            return true;
          });

      Aftermath aftermath = Aftermath.of(store, Set.of(), STORY);

      assertThat(aftermath.differing()).isEqualTo(1);
      assertThat(aftermath.duplicated()).isPositive();
    }
  }

  @Test
  void a_version_that_is_dated_before_the_one_that_it_replaces_is_out_of_order() {
    try (ClinicalStore store = told(STORY)) {
      StoredResource one = anyProcedure(store);
      store.write(
          tx -> {
            tx.put(
                new StoredResource(
                    one.key(),
                    one.version() + 1,
                    one.lastUpdated().minusMillis(1),
                    one.patientId(),
                    one.identifiers(),
                    one.json()));
            return true;
          });

      assertThat(Aftermath.of(store, Set.of(), STORY).disordered()).isEqualTo(1);
    }
  }

  @Test
  void days_and_flags_of_another_history_are_counted_otherwise() {
    try (ClinicalStore store = told(STORY);
        ClinicalStore other = told(Story.of(5, 0))) {
      assertThat(State.of(store).answersOtherThan(State.of(store))).isZero();
      assertThat(State.of(store).answersOtherThan(State.of(other))).isPositive();
    }
  }

  @Test
  void what_the_hospital_lacks_is_not_sound() {
    assertThat(Aftermath.NONE.sound()).isTrue();
    assertThat(Aftermath.NONE.unpublished(1).sound()).isFalse();
  }

  private static StoredResource anyProcedure(ClinicalStore store) {
    return store
        .read(
            state ->
                state.search(
                    new indwell.port.ResourceQuery(
                        "Procedure",
                        Set.of(),
                        Set.of(),
                        Set.of(),
                        java.util.Optional.empty(),
                        100)))
        .stream()
        .filter(resource -> !resource.json().contains("entered-in-error"))
        .findFirst()
        .orElseThrow();
  }

  /** In a process of its own, on the embedded database; both databases at length by the harness. */
  @ParameterizedTest
  @EnumSource(
      value = Point.class,
      names = {"BEFORE_SENDING", "SENT", "BEFORE_ROW", "AFTER_ROW"},
      mode = EnumSource.Mode.EXCLUDE)
  void what_ended_at_a_point_has_lost_nothing(Point point) throws Exception {
    try (Place place = Place.of("sqlite")) {
      Aftermath aftermath = place.round(5).endingAt(point, 9);

      assertThat(aftermath.sound()).as(aftermath.toString()).isTrue();
    }
  }

  /** In a process of its own, while it publishes to a hospital that answers badly. */
  @Test
  void what_ended_while_it_published_is_published_by_the_next() throws Exception {
    Aftermath aftermath = PublishingFaults.once("sqlite", 6, Point.SENT, 5, 15);

    assertThat(aftermath.sound()).as(aftermath.toString()).isTrue();
    assertThat(aftermath.acknowledged()).isPositive();
  }

  @Test
  void a_clock_that_is_put_back_dates_no_version_before_the_one_that_it_replaces()
      throws Exception {
    Aftermath aftermath = ClockFaults.once("sqlite", 7);

    assertThat(aftermath.sound()).as(aftermath.toString()).isTrue();
  }

  @Test
  void of_two_replicas_the_one_that_is_left_goes_on() throws Exception {
    try (Place place = Place.of("postgresql")) {
      Aftermath aftermath = place.round(8).oneAfterTheOther(100, 300);

      assertThat(aftermath.sound()).as(aftermath.toString()).isTrue();
      assertThat(aftermath.acknowledged()).isPositive();
    }
  }

  @Test
  void a_server_that_was_killed_under_load_is_found_again() throws Exception {
    Aftermath aftermath = ServerFaults.once(9);

    assertThat(aftermath.sound()).as(aftermath.toString()).isTrue();
  }
}
