package indwell.contract;

import static indwell.contract.Samples.NOON;
import static indwell.contract.Samples.resource;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.Backlog;
import indwell.port.ClinicalStore;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What every outbox does. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class OutboxTest {
  private static final ResourceKey DEVICE = new ResourceKey("Device", "d17");
  private static final String LANE = "pat-71";

  @TempDir Path folder;

  static Outbox outbox(ClinicalStore store) {
    return store instanceof JdbcStore jdbc ? jdbc.outbox() : ((MemoryStore) store).outbox();
  }

  private static void put(ClinicalStore store, StoredResource... resources) {
    store.write(
        w -> {
          List.of(resources).forEach(w::put);
          return true;
        });
  }

  private static Publication sent(ResourceKey key, int version) {
    return new Publication(key, version, version, "their-" + key.id(), "W/\"4" + version + "\"");
  }

  private static LaneHold hold(String lane, boolean parked, Instant nextTry) {
    return new LaneHold(lane, parked, 3, nextTry, "Device/d17", "422 (invalid)", NOON);
  }

  @ParameterizedTest
  @EnumSource
  void a_resource_waits_once_with_its_newest_version_at_the_place_of_its_first(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1), resource("Patient", "pat-71", 1));
      put(store, resource("Device", "d17", 2), resource("Location", "A-1", 1, ""));

      assertThat(outbox.take(3)).isEqualTo(3);
      assertThat(outbox.take(3)).isEqualTo(1);
      assertThat(outbox.take(3)).isZero();

      assertThat(outbox.ready(NOON, 100)).containsExactly(LANE, "");
      assertThat(outbox.waiting(LANE, 100))
          .extracting(one -> one.key().reference() + "/" + one.version())
          .containsExactlyInAnyOrder("Device/d17/2", "Patient/pat-71/1");
      assertThat(outbox.waiting(LANE, 1)).hasSize(1);
      assertThat(outbox.known(List.of(DEVICE, new ResourceKey("Device", "none"))))
          .containsOnly(java.util.Map.entry(DEVICE, new Publication(DEVICE, 2, 0, "", "")));
    }
  }

  @ParameterizedTest
  @EnumSource
  void what_was_taken_waits_no_more_until_it_changes(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1));
      outbox.take(10);
      outbox.accepted(List.of(sent(DEVICE, 1)));
      assertThat(outbox.ready(NOON, 100)).isEmpty();
      assertThat(outbox.known(Set.of(DEVICE)))
          .containsValue(new Publication(DEVICE, 1, 1, "their-d17", "W/\"41\""));

      put(store, resource("Device", "d17", 2));
      outbox.take(10);
      assertThat(outbox.waiting(LANE, 10))
          .containsExactly(new Publication(DEVICE, 2, 1, "their-d17", "W/\"41\""));
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_version_sent_ahead_of_its_change_is_not_sent_again(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1));
      put(store, resource("Device", "d17", 2));
      outbox.accepted(List.of(sent(DEVICE, 2)));
      outbox.take(10);
      assertThat(outbox.ready(NOON, 100)).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_late_word_of_an_older_version_does_not_take_a_newer_one_back(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1));
      put(store, resource("Device", "d17", 2));
      outbox.take(10);
      outbox.accepted(List.of(sent(DEVICE, 2)));
      outbox.accepted(List.of(sent(DEVICE, 1)));
      assertThat(outbox.ready(NOON, 100)).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_held_lane_is_not_ready_until_its_time_or_its_release(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1), resource("Location", "A-1", 1, ""));
      outbox.take(10);

      outbox.hold(hold(LANE, false, NOON.plusMillis(5)));
      assertThat(outbox.ready(NOON.plusMillis(4), 100)).containsExactly("");
      assertThat(outbox.ready(NOON.plusMillis(5), 100)).containsExactlyInAnyOrder(LANE, "");

      outbox.hold(hold(LANE, true, NOON));
      assertThat(outbox.ready(NOON.plusSeconds(1_000), 100)).containsExactly("");
      assertThat(outbox.held(LANE)).contains(hold(LANE, true, NOON));

      assertThat(outbox.release(LANE)).isTrue();
      assertThat(outbox.release(LANE)).isFalse();
      assertThat(outbox.held(LANE)).isEmpty();
      assertThat(outbox.ready(NOON, 100)).hasSize(2);
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_skipped_resource_waits_again_with_its_next_change(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1));
      outbox.take(10);
      outbox.hold(hold(LANE, true, NOON));
      assertThat(outbox.release(LANE, Optional.of(DEVICE), List.of())).isTrue();
      assertThat(outbox.release(LANE, Optional.of(DEVICE), List.of())).isFalse();
      assertThat(outbox.ready(NOON, 100)).isEmpty();
      put(store, resource("Device", "d17", 2));
      outbox.take(10);
      assertThat(outbox.ready(NOON, 100)).containsExactly(LANE);
    }
  }

  @ParameterizedTest
  @EnumSource
  void what_is_to_be_sent_again_keeps_their_id_and_forgets_their_version(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      put(store, resource("Device", "d17", 1));
      outbox.take(10);
      outbox.accepted(List.of(sent(DEVICE, 1)));
      outbox.again(List.of(DEVICE, new ResourceKey("Device", "none")));
      assertThat(outbox.waiting(LANE, 10))
          .containsExactly(new Publication(DEVICE, 1, 0, "their-d17", ""));
    }
  }

  @ParameterizedTest
  @EnumSource
  void one_sends_at_a_time_until_it_resigns_or_its_time_is_over(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      assertThat(outbox.lead("one", NOON, NOON.plusMillis(10))).isTrue();
      assertThat(outbox.lead("two", NOON.plusMillis(9), NOON.plusMillis(19))).isFalse();
      assertThat(outbox.lead("one", NOON.plusMillis(9), NOON.plusMillis(20))).isTrue();
      assertThat(outbox.lead("two", NOON.plusMillis(20), NOON.plusMillis(30))).isTrue();
      assertThat(outbox.lead("one", NOON.plusMillis(21), NOON.plusMillis(31))).isFalse();
      outbox.resign("one");
      assertThat(outbox.lead("one", NOON.plusMillis(21), NOON.plusMillis(31))).isFalse();
      outbox.resign("two");
      assertThat(outbox.lead("one", NOON.plusMillis(21), NOON.plusMillis(31))).isTrue();
    }
  }

  @ParameterizedTest
  @EnumSource
  void another_server_is_told_everything_anew(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      assertThat(outbox.aim("https://one.example/fhir")).isTrue();
      put(store, resource("Device", "d17", 1));
      outbox.take(10);
      outbox.accepted(List.of(sent(DEVICE, 1)));
      outbox.hold(hold(LANE, true, NOON));
      assertThat(outbox.aim("https://one.example/fhir")).isFalse();
      assertThat(outbox.ready(NOON, 10)).isEmpty();
      assertThat(outbox.aim("https://two.example/fhir")).isTrue();
      assertThat(outbox.waiting(LANE, 10)).containsExactly(new Publication(DEVICE, 1, 0, "", ""));
      assertThat(outbox.ready(NOON, 10)).containsExactly(LANE);
    }
  }

  @ParameterizedTest
  @EnumSource
  void the_backlog_counts_what_waits_read_or_not(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      assertThat(outbox.backlog())
          .isEqualTo(new Backlog(0, 0, java.util.Optional.empty(), List.of()));
      put(store, resource("Device", "d17", 1), resource("Patient", "pat-71", 1));
      outbox.take(10);
      put(store, resource("Device", "d17", 2));
      outbox.hold(hold(LANE, true, NOON));
      assertThat(outbox.backlog())
          .isEqualTo(
              new Backlog(
                  2,
                  1,
                  java.util.Optional.of(NOON.plusSeconds(1)),
                  List.of(hold(LANE, true, NOON))));
    }
  }

  @ParameterizedTest
  @EnumSource
  void what_a_transaction_took_back_is_never_seen(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      try {
        store.write(
            w -> {
              w.put(resource("Device", "d17", 1));
              throw new IllegalArgumentException("on purpose");
            });
      } catch (IllegalArgumentException expected) {
        // The transaction is taken back.
      }
      put(store, resource("Patient", "pat-71", 1));
      assertThat(outbox.take(10)).isEqualTo(1);
      assertThat(outbox.known(List.of(DEVICE))).isEmpty();
    }
  }

  /**
   * The trap of every outbox that is read by number: the first transaction draws the lower numbers
   * and commits last.
   */
  @ParameterizedTest
  @EnumSource(names = {"SQLITE", "POSTGRES"})
  void a_change_that_becomes_visible_late_is_not_missed(AnyStore kind) throws Exception {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      CountDownLatch drawn = new CountDownLatch(1);
      CountDownLatch goOn = new CountDownLatch(1);
      CompletableFuture<Boolean> slow =
          CompletableFuture.supplyAsync(
              () ->
                  store.write(
                      w -> {
                        w.lockPatients(new TreeSet<>(Set.of("slow")));
                        w.put(resource("Device", "slow", 1, "slow"));
                        // Sends off what is pending, as a read does.
                        w.resource(DEVICE);
                        drawn.countDown();
                        return await(goOn);
                      }));
      await(drawn);
      CompletableFuture<Void> quick =
          CompletableFuture.runAsync(() -> put(store, resource("Device", "d17", 1)));
      if (kind == AnyStore.POSTGRES) {
        quick.join();
      }
      CompletableFuture<Integer> taking = CompletableFuture.supplyAsync(() -> outbox.take(10));
      giveTimeToGoWrong(taking);
      goOn.countDown();
      slow.join();
      quick.join();
      int taken = taking.join();
      while (taken < 2) {
        int more = outbox.take(10);
        assertThat(more).as("a change is missed").isPositive();
        taken += more;
      }
      assertThat(outbox.ready(NOON, 10)).containsExactlyInAnyOrder("slow", LANE);
    }
  }

  /** A reader that does not wait for the slow writer is done, and wrong, long before that. */
  private static void giveTimeToGoWrong(CompletableFuture<Integer> taking) throws Exception {
    try {
      taking.get(2, TimeUnit.SECONDS);
    } catch (TimeoutException waits) {
      // It waits, as it should.
    }
  }

  private static boolean await(CountDownLatch latch) {
    try {
      latch.await();
      return true;
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"SQLITE", "POSTGRES"})
  void many_writers_at_once_leave_no_change_out(AnyStore kind) {
    int writers = 6;
    int each = 30;
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = outbox(store);
      CompletableFuture<?>[] all = new CompletableFuture<?>[writers];
      for (int w = 0; w < writers; w++) {
        String patient = "p" + w;
        all[w] =
            CompletableFuture.runAsync(
                () -> {
                  for (int i = 0; i < each; i++) {
                    put(store, resource("Device", patient + "-" + i, 1, patient));
                  }
                });
      }
      int taken = 0;
      CompletableFuture<Void> done = CompletableFuture.allOf(all);
      while (!done.isDone()) {
        taken += outbox.take(7);
      }
      done.join();
      for (int more = outbox.take(7); more > 0; more = outbox.take(7)) {
        taken += more;
      }
      assertThat(taken).isEqualTo(writers * each);
      assertThat(outbox.backlog().waiting()).isEqualTo(writers * each);
    }
  }
}
