package indwell.contract;

import static indwell.contract.Samples.all;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.key;
import static indwell.contract.Samples.resource;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.HeldEvents;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.stream.IntStream;

/** What must hold when transactions meet. */
final class ConcurrencyChecks {
  private static final int THREADS = 8;
  private static final int ROUNDS = 20;

  private ConcurrencyChecks() {}

  /** Each reads how many versions there are and adds the next: without the lock both add one. */
  static void twoOnOneEvent(ClinicalStore store) throws Exception {
    meet(
        store,
        w -> w.lockEvents(new TreeSet<>(Set.of(key("E-41")))),
        w -> w.append(event("E-41", w.versionsOf(key("E-41")).size() + 1, "pat-81")));
    assertThat(Now.of(store).versionsOf(key("E-41"))).hasSize(2);
  }

  static void twoOnOnePatient(ClinicalStore store) throws Exception {
    AtomicInteger name = new AtomicInteger();
    meet(
        store,
        w -> w.lockPatients(new TreeSet<>(Set.of("pat-82", "pat-83"))),
        w -> {
          int events = w.currentEvents("pat-82").size();
          w.append(event("E-42-" + name.incrementAndGet(), events + 1, "pat-82"));
        });
    assertThat(Now.of(store).currentEvents("pat-82"))
        .extracting(e -> e.version())
        .containsExactlyInAnyOrder(1, 2);
  }

  /** What is read in one go with a lock is read behind it: the second need not begin anew. */
  static void twoThatReadAsTheyHold(ClinicalStore store) throws Exception {
    AtomicInteger begun = new AtomicInteger();
    ThreadLocal<Integer> known = new ThreadLocal<>();
    meet(
        store,
        w -> {
          begun.incrementAndGet();
          HeldEvents held = w.holdEvents(new TreeSet<>(Set.of(key("E-43"))), Set.of());
          known.set(held.versions().getOrDefault(key("E-43"), List.of()).size());
        },
        w -> w.append(event("E-43", known.get() + 1, "pat-84")));
    meet(
        store,
        w -> {
          begun.incrementAndGet();
          known.set(w.holdPatients(new TreeSet<>(Set.of("pat-85")), Set.of("pat-85")).size());
        },
        w -> w.append(event("E-44-" + known.get(), 1, "pat-85")));
    assertThat(begun).hasValue(4);
    assertThat(Now.of(store).versionsOf(key("E-43"))).hasSize(2);
    assertThat(Now.of(store).currentEvents("pat-85"))
        .extracting(e -> e.key())
        .containsExactlyInAnyOrder(key("E-44-0"), key("E-44-1"));
  }

  /** The second transaction begins while the first holds the lock and lingers. */
  private static void meet(ClinicalStore store, Consumer<Writing> lock, Consumer<Writing> work)
      throws Exception {
    CountDownLatch held = new CountDownLatch(1);
    AtomicInteger inside = new AtomicInteger();
    AtomicInteger most = new AtomicInteger();
    Callable<Boolean> one =
        () ->
            store.write(
                w -> {
                  lock.accept(w);
                  most.accumulateAndGet(inside.incrementAndGet(), Math::max);
                  held.countDown();
                  sleep(150);
                  work.accept(w);
                  inside.decrementAndGet();
                  return true;
                });
    Callable<Boolean> two =
        () -> {
          held.await();
          return one.call();
        };
    together(List.of(one, two));
    assertThat(most).hasValue(1);
  }

  static void noLostUpdate(ClinicalStore store) throws Exception {
    ResourceKey counter = new ResourceKey("Encounter", "e91");
    List<Callable<Boolean>> threads = new ArrayList<>();
    for (int t = 0; t < THREADS; t++) {
      String thread = "E-43-" + t;
      threads.add(
          () -> {
            for (int round = 1; round <= ROUNDS; round++) {
              int version = round;
              store.write(
                  w -> {
                    w.lockEvents(new TreeSet<>(Set.of(key(thread))));
                    w.lockPatients(new TreeSet<>(Set.of("pat-84")));
                    w.append(event(thread, version, "pat-84"));
                    w.put(next(w, counter));
                    return true;
                  });
            }
            return true;
          });
    }
    together(threads);
    assertThat(Now.of(store).history(counter))
        .extracting(StoredResource::version)
        .hasSize(THREADS * ROUNDS)
        .startsWith(THREADS * ROUNDS);
    assertThat(Now.of(store).currentEvents("pat-84"))
        .hasSize(THREADS)
        .allMatch(e -> e.version() == ROUNDS);
  }

  /** Nobody locks a ward: the store itself must let one writer go after the other. */
  static void sharedResource(ClinicalStore store) throws Exception {
    ResourceKey first = new ResourceKey("Location", "W-1");
    ResourceKey second = new ResourceKey("Location", "W-2");
    List<Callable<Boolean>> threads = new ArrayList<>();
    for (int t = 0; t < 4; t++) {
      List<ResourceKey> order = t % 2 == 0 ? List.of(first, second) : List.of(second, first);
      threads.add(
          () -> {
            for (int round = 0; round < 5; round++) {
              store.write(
                  w -> {
                    order.forEach(k -> w.put(next(w, k)));
                    return true;
                  });
            }
            return true;
          });
    }
    together(threads);
    assertThat(Now.of(store).search(all("Location")))
        .extracting(StoredResource::version)
        .containsExactly(20, 20);
  }

  /** Transactions may share a flush to the disk; one that fails takes nobody with it. */
  static void failuresStayAlone(ClinicalStore store) throws Exception {
    List<Callable<Boolean>> threads = new ArrayList<>();
    for (int t = 0; t < THREADS; t++) {
      int thread = t;
      threads.add(
          () -> {
            for (int round = 0; round < ROUNDS; round++) {
              tryToWrite(store, "E-44-" + thread + "-" + round, (thread + round) % 3 == 0);
            }
            return true;
          });
    }
    together(threads);
    assertThat(Now.of(store).currentEvents("pat-85"))
        .extracting(e -> e.key().eventId())
        .containsExactlyInAnyOrderElementsOf(
            IntStream.range(0, THREADS * ROUNDS)
                .filter(n -> (n / ROUNDS + n % ROUNDS) % 3 != 0)
                .mapToObj(n -> "E-44-" + n / ROUNDS + "-" + n % ROUNDS)
                .toList());
  }

  private static void tryToWrite(ClinicalStore store, String eventId, boolean failing) {
    try {
      store.write(
          w -> {
            w.append(event(eventId, 1, "pat-85"));
            // Reading makes the store write what is pending, so there is something to take back.
            assertThat(w.versionsOf(key(eventId))).hasSize(1);
            if (failing) {
              throw new IllegalArgumentException(eventId);
            }
            return true;
          });
      assertThat(failing).isFalse();
    } catch (IllegalArgumentException e) {
      assertThat(failing).isTrue();
    }
  }

  /** Two resources are always written together, so no reader may see them apart. */
  static void consistentReader(ClinicalStore store) throws Exception {
    ResourceKey left = new ResourceKey("Device", "left");
    ResourceKey right = new ResourceKey("Procedure", "right");
    Callable<Boolean> writer =
        () -> {
          for (int i = 0; i < 40; i++) {
            store.write(
                w -> {
                  w.put(next(w, left));
                  w.put(next(w, right));
                  return true;
                });
          }
          return true;
        };
    Callable<Boolean> reader =
        () -> {
          int seen = 0;
          while (seen < 40) {
            List<Integer> versions =
                store.read(
                    r -> {
                      int l = r.resource(left).map(StoredResource::version).orElse(0);
                      sleep(1);
                      return List.of(l, r.resource(right).map(StoredResource::version).orElse(0));
                    });
            assertThat(versions.get(0)).isEqualTo(versions.get(1)).isGreaterThanOrEqualTo(seen);
            seen = versions.get(0);
          }
          return true;
        };
    together(List.of(writer, reader));
  }

  private static StoredResource next(Writing writing, ResourceKey key) {
    int version = writing.resource(key).map(StoredResource::version).orElse(0) + 1;
    return resource(key.type(), key.id(), version);
  }

  private static void together(List<Callable<Boolean>> threads) throws Exception {
    ExecutorService executor = Executors.newFixedThreadPool(threads.size());
    try {
      for (Future<Boolean> done : threads.stream().map(executor::submit).toList()) {
        assertThat(done.get(60, TimeUnit.SECONDS)).isTrue();
      }
    } finally {
      executor.shutdownNow();
    }
  }

  private static void sleep(long millis) {
    try {
      Thread.sleep(millis);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }
}
