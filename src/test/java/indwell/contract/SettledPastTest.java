package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ResourceKey;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoredResource;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What is settled stays, whoever is writing meanwhile, and nothing falls between two readings. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SettledPastTest {
  private static final Instant T1 = Instant.parse("2026-03-01T10:00:00.001Z");
  private static final Instant T2 = Instant.parse("2026-03-01T10:00:00.002Z");
  private static final Instant T3 = Instant.parse("2026-03-01T10:00:00.003Z");
  private static final int WRITERS = 6;
  private static final int ROUNDS = 40;

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource
  void the_time_to_write_lies_behind_the_settled_past(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      assertThat(store.<Instant>write(w -> w.time(T1.plusNanos(7)))).isEqualTo(T1);
      assertThat(store.settle(T2.plusNanos(999))).isEqualTo(T2);
      assertThat(store.<Instant>write(w -> w.time(T1))).isEqualTo(T3);
      assertThat(store.<Instant>write(w -> w.time(T2))).isEqualTo(T3);
      assertThat(store.<Instant>write(w -> w.time(T3))).isEqualTo(T3);
    }
  }

  @ParameterizedTest
  @EnumSource
  void the_settled_past_never_shrinks(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      store.settle(T2);
      assertThat(store.settle(T1)).isEqualTo(T2);
      assertThat(store.<Instant>write(w -> w.time(T1))).isEqualTo(T3);
    }
  }

  @ParameterizedTest
  @EnumSource
  void nothing_is_written_into_the_settled_past(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      store.settle(T2);
      assertThatThrownBy(() -> put(store, device("d1", 1, T2)))
          .isInstanceOf(IllegalStateException.class)
          .hasMessage("A Device is last updated in the settled past.");
      put(store, device("d1", 1, T3));
      assertThat(ask(store, at(T3))).containsExactly(text("d1", 1, T3));
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_resource_stands_as_its_highest_version_up_to_the_time(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      put(store, device("d1", 1, T1), device("d2", 1, T2), Samples.resource("Devic", "x", 1));
      put(store, device("d1", 2, T3));
      assertThat(ask(store, at(T1))).containsExactly(text("d1", 1, T1));
      assertThat(ask(store, at(T2))).containsExactly(text("d1", 1, T1), text("d2", 1, T2));
      assertThat(ask(store, at(T3))).containsExactly(text("d1", 2, T3), text("d2", 1, T2));
      assertThat(ask(store, at(T1.minusMillis(1)))).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void since_and_until_are_exclusive_and_ask_the_standing_version(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      put(store, device("d1", 1, T1), device("d2", 1, T2));
      put(store, device("d1", 2, T3));
      assertThat(ask(store, between(T3, T1, Instant.MAX)))
          .containsExactly(text("d1", 2, T3), text("d2", 1, T2));
      assertThat(ask(store, between(T3, T2, Instant.MAX))).containsExactly(text("d1", 2, T3));
      assertThat(ask(store, between(T3, T3, Instant.MAX))).isEmpty();
      assertThat(ask(store, between(T3, Instant.MIN, T3))).containsExactly(text("d2", 1, T2));
      assertThat(ask(store, between(T2, Instant.MIN, T2))).containsExactly(text("d1", 1, T1));
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_question_may_be_about_some_types_some_patients_or_some_resources(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      put(store, device("d1", 1, T1), device("d2", 1, T1));
      put(store, Samples.resource("Procedure", "p1", 1), Samples.resource("Proc", "p2", 1));
      put(store, Samples.resource("Device", "d4", 1, "pat-72"));
      put(store, Samples.resource("Device", "d4", 2, "pat-73"));
      Set<String> both = Set.of("Device", "Procedure");
      assertThat(ids(store, of(both, Set.of()))).containsExactly("d1", "d2", "d4", "p1");
      assertThat(ids(store, of(both, Set.of("pat-73")))).containsExactly("d4");
      assertThat(ids(store, of(both, Set.of("pat-72")))).isEmpty();
      assertThat(ids(store, of(Set.of("Device"), Set.of()))).containsExactly("d1", "d2", "d4");
      assertThat(among(store, "d2", "d9", "p1")).containsExactly("d2");
      assertThat(among(store)).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void what_a_visitor_throws_ends_the_walk_and_the_store_goes_on(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      put(store, device("d1", 1, T1), device("d2", 1, T1));
      List<ResourceText> seen = new ArrayList<>();
      for (int i = 0; i < 20; i++) {
        assertThatThrownBy(
                () ->
                    store.standing(
                        at(T1),
                        one -> {
                          seen.add(one);
                          throw new UncheckedIOException(new IOException("no room"));
                        }))
            .isInstanceOf(UncheckedIOException.class);
      }
      assertThat(seen).hasSize(20);
      assertThat(ask(store, at(T1))).hasSize(2);
    }
  }

  /**
   * Writers take their time between the time that they put on their resources and their commit,
   * while somebody settles and reads what changed since the last reading.
   */
  @ParameterizedTest
  @EnumSource
  void consecutive_readings_add_up_to_the_store_with_writers_under_way(AnyStore kind)
      throws Exception {
    try (ClinicalStore store = kind.open(folder)) {
      List<Instant> times = new ArrayList<>(List.of(Instant.MIN));
      List<List<ResourceText>> then = new ArrayList<>();
      Map<ResourceKey, ResourceText> copy = new TreeMap<>();
      ExecutorService writers = Executors.newFixedThreadPool(WRITERS);
      try {
        List<Future<Boolean>> under = new ArrayList<>();
        for (int number = 0; number < WRITERS; number++) {
          int writer = number;
          under.add(writers.submit(() -> write(store, writer)));
        }
        boolean busy = true;
        while (busy) {
          busy = under.stream().anyMatch(one -> !one.isDone());
          Instant time = store.settle(Clock.systemUTC().instant());
          Instant since = times.get(times.size() - 1);
          ask(store, between(time, since, Instant.MAX)).forEach(r -> copy.put(r.key(), r));
          times.add(time);
          then.add(ask(store, at(time)));
          pause(new Random(times.size()).nextInt(5));
        }
        for (Future<Boolean> one : under) {
          assertThat(one.get(60, TimeUnit.SECONDS)).isTrue();
        }
      } finally {
        writers.shutdownNow();
      }
      assertThat(then.size()).isGreaterThan(5);
      assertThat(copy.values())
          .containsExactlyElementsOf(
              store.<List<StoredResource>>read(r -> r.search(Samples.all("Device"))).stream()
                  .map(ResourceText::of)
                  .toList());
      for (int i = 0; i < then.size(); i++) {
        assertThat(ask(store, at(times.get(i + 1)))).isEqualTo(then.get(i));
      }
    }
  }

  private static boolean write(ClinicalStore store, int writer) {
    Random random = new Random(writer);
    for (int round = 0; round < ROUNDS; round++) {
      String own = "w" + writer + "-" + random.nextInt(8);
      Instant now = Clock.systemUTC().instant();
      int patience = random.nextInt(8);
      store.write(
          w -> {
            Instant time = w.time(now);
            pause(patience);
            w.put(device(own, 1 + version(w, own), time));
            pause(patience);
            return true;
          });
    }
    return true;
  }

  private static int version(Writing writing, String id) {
    return writing.resource(new ResourceKey("Device", id)).map(StoredResource::version).orElse(0);
  }

  private static StoredResource device(String id, int version, Instant at) {
    return new StoredResource(
        new ResourceKey("Device", id),
        version,
        at,
        "pat-71",
        List.of("urn:s|" + id),
        "{\"id\":\"" + id + "\",\"v\":" + version + "}");
  }

  private static ResourceText text(String id, int version, Instant at) {
    return ResourceText.of(device(id, version, at));
  }

  private static void put(ClinicalStore store, StoredResource... resources) {
    store.write(
        w -> {
          List.of(resources).forEach(w::put);
          return true;
        });
  }

  /** In the order of their ids, for which the store does not care. */
  private static List<ResourceText> ask(ClinicalStore store, Standing question) {
    List<ResourceText> all = new ArrayList<>();
    store.standing(question, all::add);
    all.sort(Comparator.comparing(one -> one.key().id()));
    return all;
  }

  private static List<String> ids(ClinicalStore store, Standing question) {
    return ask(store, question).stream().map(one -> one.key().id()).toList();
  }

  private static List<String> among(ClinicalStore store, String... ids) {
    Set<ResourceKey> keys = new HashSet<>();
    List.of(ids).forEach(id -> keys.add(new ResourceKey("Device", id)));
    Standing devices = of(Set.of("Device"), Set.of());
    return store.read(r -> r.standing(devices, keys)).stream().map(one -> one.key().id()).toList();
  }

  private static Standing at(Instant at) {
    return between(at, Instant.MIN, Instant.MAX);
  }

  private static Standing between(Instant at, Instant since, Instant until) {
    return new Standing(Set.of("Device"), at, since, until, Set.of());
  }

  private static Standing of(Set<String> types, Set<String> patients) {
    return new Standing(types, Samples.NOON.plusSeconds(60), Instant.MIN, Instant.MAX, patients);
  }

  private static void pause(int millis) {
    try {
      Thread.sleep(millis);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }
}
