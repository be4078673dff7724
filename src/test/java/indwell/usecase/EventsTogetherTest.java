package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.AnyStore;
import indwell.domain.event.EventKey;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.ChangeQuery;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Events that share a transaction end as if each had had one of its own (contract, section 2), in
 * every store.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EventsTogetherTest {
  private static final MappingContext CONTEXT = new MappingContext(ZoneId.of("Europe/Berlin"));
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(20));

  /** Finds a fault with a volume that no other event of these tests has. */
  private static final String FAULTY = "7331";

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void everything_is_as_after_events_recorded_one_by_one(AnyStore kind) {
    try (ClinicalStore together = kind.open(folder);
        ClinicalStore alone = new MemoryStore()) {
      TreeSet<EventKey> keys = new TreeSet<>();
      for (long seed = 1; seed <= 8; seed++) {
        Random random = new Random(seed);
        List<Received> events = history(seed, random);
        events.forEach(event -> keys.add(key(event)));
        assertThat(inParts(recorder(together), events, random))
            .isEqualTo(oneByOne(recorder(alone), events));
      }
      assertSameContents(contents(together), contents(alone));
      assertThat(events(together, keys)).isEqualTo(events(alone, keys));
      assertThat(whereabouts(together)).isEqualTo(whereabouts(alone));
    }
  }

  /** The last versions are the same; those before are among the ones that each event makes. */
  private static void assertSameContents(
      Map<String, List<String>> together, Map<String, List<String>> alone) {
    assertThat(together).containsOnlyKeys(alone.keySet());
    together.forEach(
        (key, versions) -> {
          List<String> all = alone.get(key);
          assertThat(versions).last().isEqualTo(all.get(all.size() - 1));
          assertThat(all).containsSubsequence(versions);
        });
  }

  /** What each resource said, version by version, without what a version is numbered and dated. */
  private static Map<String, List<String>> contents(ClinicalStore store) {
    return resources(store).stream()
        .collect(
            Collectors.groupingBy(
                one -> one.key().reference(),
                Collectors.mapping(EventsTogetherTest::content, Collectors.toList())));
  }

  private static String content(StoredResource resource) {
    return resource.json().replaceFirst("\"versionId\":\"\\d+\",\"lastUpdated\":\"[^\"]+\",?", "");
  }

  /** A rate follows from a weight, that no event of the group is; a weight makes its own. */
  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void what_follows_from_many_events_of_a_group_is_written_once_for_all_of_them(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      RecordEvents recorder = recorder(store);
      recorder.record(List.of(volume("e1", "P1", "100")));
      recorder.record(
          List.of(
              weight("w1", 1, 60), weight("w1", 2, 61), weight("w2", 1, 62), weight("w1", 3, 63)));
      Map<String, List<String>> contents = contents(store);
      assertThat(contents.get("Observation/" + idOf("w1"))).hasSize(3);
      assertThat(contents.get("Observation/" + idOf("w2"))).hasSize(1);
      assertThat(rates(contents)).singleElement().satisfies(rate -> assertThat(rate).hasSize(1));
    }
  }

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void what_followed_and_is_taken_back_in_the_same_group_keeps_its_last_content(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      recorder(store)
          .record(
              List.of(
                  volume("e1", "P1", "100"),
                  weight("w1", 1, 50),
                  weight("w1", 2, 40),
                  withdrawnWeight("w1", 3),
                  weight("w1", 4, 25)));
      assertThat(rates(contents(store)))
          .singleElement()
          .satisfies(
              rate -> {
                assertThat(rate).hasSize(3);
                assertThat(rate.get(0)).contains("final", AT_40_KG);
                assertThat(rate.get(1)).contains("entered-in-error", AT_40_KG);
                assertThat(rate.get(2)).contains("final", AT_25_KG);
              });
    }
  }

  /** 100 mL in 6 h, worked out by hand. */
  private static final String AT_40_KG = "\"value\":0.4167";

  private static final String AT_25_KG = "\"value\":0.6667";

  private static Received withdrawnWeight(String id, int version) {
    return received(
        """
        {"source":"ward","eventId":"%s","version":%d,"type":"weight-measured",\
        "status":"entered-in-error","patient":{"system":"urn:p","value":"P1"}}"""
            .formatted(id, version));
  }

  private static List<List<String>> rates(Map<String, List<String>> contents) {
    return contents.values().stream()
        .filter(versions -> versions.get(0).contains("mL/kg/h"))
        .toList();
  }

  private static String idOf(String event) {
    return ResourceId.ofEvent("Observation", new EventKey("ward", event)).id();
  }

  private static Received weight(String id, int version, int kg) {
    return received(
        """
        {"source":"ward","eventId":"%s","version":%d,"type":"weight-measured",\
        "occurredAt":"2026-03-27T01:00:00Z","patient":{"system":"urn:p","value":"P1"},\
        "details":{"kg":%d}}"""
            .formatted(id, version, kg));
  }

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void one_that_fails_in_the_middle_takes_nobody_with_it(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      List<EventResult> results =
          recorder(store)
              .record(
                  List.of(
                      volume("e1", "P1", "100"),
                      volume("e2", "P1", FAULTY),
                      refused(),
                      volume("e3", "P1", "300")));
      assertThat(results)
          .extracting(EventResult::outcome)
          .containsExactly(Outcome.RECORDED, Outcome.FAILED, Outcome.REFUSED, Outcome.RECORDED);
      assertThat(events(store, List.of(new EventKey("ward", "e2")))).isEmpty();
      assertThat(resources(store)).noneMatch(one -> one.json().contains(FAULTY));
    }
  }

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void an_event_that_comes_twice_is_recorded_once(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      List<EventResult> results =
          recorder(store)
              .record(
                  List.of(
                      volume("e1", "P1", "100"),
                      volume("e1", "P1", "100.0"),
                      volume("e1", "P2", "100"),
                      volume("e2", "P1", "100")));
      assertThat(results)
          .extracting(EventResult::outcome)
          .containsExactly(Outcome.RECORDED, Outcome.DUPLICATE, Outcome.CONFLICT, Outcome.RECORDED);
      assertThat(results.get(1).resources()).isEqualTo(results.get(0).resources()).isNotEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void groups_that_name_the_same_patients_in_any_order_all_get_through(AnyStore kind)
      throws Exception {
    int groups = 8;
    ExecutorService threads = Executors.newFixedThreadPool(groups);
    try (ClinicalStore store = kind.open(folder)) {
      RecordEvents recorder = recorder(store);
      List<Future<List<EventResult>>> running =
          IntStream.range(0, groups)
              .mapToObj(group -> threads.submit(() -> recorder.record(volumes(group))))
              .toList();
      for (Future<List<EventResult>> group : running) {
        assertThat(group.get(60, TimeUnit.SECONDS))
            .extracting(EventResult::outcome)
            .containsOnly(Outcome.RECORDED);
      }
      for (String patient : resourcesOf(store, "Patient")) {
        assertThat(store.<List<StoredEvent>>read(state -> state.currentEvents(patient)))
            .hasSize(groups);
      }
    } finally {
      threads.shutdownNow();
    }
  }

  /** Twelve patients, forwards or backwards. */
  private static List<Received> volumes(int group) {
    List<Received> events = new ArrayList<>();
    for (int patient = 0; patient < 12; patient++) {
      events.add(volume("g" + group + "/" + patient, "P" + patient, "100"));
    }
    if (group % 2 == 1) {
      Collections.reverse(events);
    }
    return events;
  }

  /** A random history, some of its events twice and some with other content the second time. */
  private static List<Received> history(long seed, Random random) {
    List<Received> events = new ArrayList<>();
    for (String body : new RandomBodies(seed).bodies()) {
      String own =
          body.replace("\"random\"", "\"random-" + seed + "\"")
              .replace("urn:p", "urn:p" + seed)
              .replace("urn:s", "urn:s" + seed);
      events.add(received(own));
      if (random.nextInt(6) == 0) {
        events.add(received(random.nextBoolean() ? own : own.replace("\"P0\"", "\"P9\"")));
      }
    }
    Collections.shuffle(events, random);
    return events;
  }

  private static List<EventResult> oneByOne(RecordEvents recorder, List<Received> events) {
    return events.stream().map(event -> recorder.record(event.reading(), event.at())).toList();
  }

  private static List<EventResult> inParts(
      RecordEvents recorder, List<Received> events, Random random) {
    List<EventResult> results = new ArrayList<>();
    while (results.size() < events.size()) {
      int to = Math.min(events.size(), results.size() + 1 + random.nextInt(20));
      results.addAll(recorder.record(events.subList(results.size(), to)));
    }
    return results;
  }

  private static List<StoredResource> resources(ClinicalStore store) {
    ChangeQuery all =
        new ChangeQuery(
            Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), 10_000);
    return store.<List<StoredResource>>read(state -> state.changes(all)).stream()
        .sorted(
            Comparator.comparing((StoredResource one) -> one.key().reference())
                .thenComparing(StoredResource::version))
        .toList();
  }

  private static List<String> resourcesOf(ClinicalStore store, String type) {
    return resources(store).stream()
        .map(StoredResource::key)
        .filter(key -> key.type().equals(type))
        .map(key -> key.id())
        .distinct()
        .toList();
  }

  private static Map<EventKey, List<StoredEvent>> events(
      ClinicalStore store, Collection<EventKey> keys) {
    return store.read(state -> state.versionsOf(keys));
  }

  private static Object whereabouts(ClinicalStore store) {
    return store.read(
        state ->
            List.of(
                state.inpatientWards(),
                state.patientsWithCatheter(NOW.minus(Duration.ofDays(10))),
                state.patientsInWards(Set.of(), NOW.minus(Duration.ofDays(10)), NOW)));
  }

  private static EventKey key(Received event) {
    return ((Reading.Accepted) event.reading()).version().key();
  }

  private static Received volume(String id, String patient, String volumeMl) {
    return received(
        """
        {"source":"ward","eventId":"%s","type":"urine-measured",\
        "occurredAt":"2026-03-27T08:00:00Z","patient":{"system":"urn:p","value":"%s"},\
        "details":{"volumeMl":%s,"from":"2026-03-27T02:00:00Z"}}"""
            .formatted(id, patient, volumeMl));
  }

  private static Received refused() {
    return received("{\"source\":\"ward\"}");
  }

  private static Received received(String body) {
    byte[] line = body.replace("\n", " ").getBytes(StandardCharsets.UTF_8);
    return new Received(EventBodies.line(line, NOW), NOW);
  }

  @Test
  void the_watch_is_told_how_long_it_took_by_the_stopwatch_it_was_given() {
    Iterator<Long> stopwatch = List.of(5_000L, 12_000L).iterator();
    List<Duration> told = new ArrayList<>();
    try (ClinicalStore store = new MemoryStore()) {
      RecordEvents events =
          new RecordEvents(
              store,
              new FindsOneFault(),
              CONTEXT,
              (received, results, took) -> told.add(took),
              stopwatch::next);

      events.record(List.of(refused(), refused()));
    }

    assertThat(told).containsExactly(Duration.ofNanos(7_000));
  }

  private static RecordEvents recorder(ClinicalStore store) {
    return new RecordEvents(store, new FindsOneFault(), CONTEXT);
  }

  private static final class FindsOneFault implements ProfileValidator {
    private static final Finding FAULT =
        new Finding(Severity.ERROR, "value", "Observation.value", "Too much.");

    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return new String(json, StandardCharsets.UTF_8).contains(FAULTY) ? List.of(FAULT) : List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
