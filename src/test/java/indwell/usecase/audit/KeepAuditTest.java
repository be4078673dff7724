package indwell.usecase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.ForwardingStore;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.SearchOrder;
import indwell.port.StoreUnavailable;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class KeepAuditTest {
  private static AuditEntry entry(int number) {
    return new AuditEntry(
        Instant.parse("2026-03-10T12:00:00Z"),
        Origin.SERVICE,
        Interaction.READ,
        Optional.of("Procedure/" + number),
        Optional.empty(),
        "",
        200,
        Optional.empty());
  }

  private static CompletableFuture<Boolean> keep(KeepAudit keep, AuditEntry entry) {
    return keep.keep(List.of(entry), List.of(entry)).toCompletableFuture();
  }

  /** The answer says something, and 503 instead when its row cannot be written. */
  private static CompletableFuture<Boolean> disclose(KeepAudit keep, AuditEntry entry) {
    return keep.keep(List.of(entry), List.of(withheld(entry))).toCompletableFuture();
  }

  private static AuditEntry withheld(AuditEntry entry) {
    return entry.withheld(503, "IND-0461");
  }

  private static List<AuditEntry> rows(ClinicalStore store) {
    return store.read(KeepAuditTest::rows);
  }

  private static List<AuditEntry> rows(ClinicalStore.Reading state) {
    ResourceQuery all =
        new ResourceQuery(
            "AuditEvent",
            Set.of(),
            Set.of(),
            Set.of(),
            List.of(),
            SearchOrder.BY_ID,
            Optional.empty(),
            10_000);
    return state.audited(all).stream().map(Audited::entry).toList();
  }

  @Test
  void rows_are_written_in_their_order_and_none_is_lost_at_the_end() {
    MemoryStore store = new MemoryStore();
    try (KeepAudit keep = new KeepAudit(store)) {
      IntStream.range(0, 3_000).forEach(number -> keep(keep, entry(number)));
    }

    assertThat(rows(store))
        .isEqualTo(IntStream.range(0, 3_000).mapToObj(KeepAuditTest::entry).toList());
  }

  /** A store that cannot be written a few times, for one reason and another. */
  private static final class Failing extends ForwardingStore {
    private final AtomicInteger fails = new AtomicInteger(2);

    private Failing(ClinicalStore store) {
      super(store);
    }

    @Override
    public <T> T write(Function<Writing, T> work) {
      return switch (fails.getAndDecrement()) {
        case 2 -> throw new StoreUnavailable("away", new IllegalStateException());
        case 1 -> throw new IllegalStateException("a fault");
        default -> super.write(work);
      };
    }
  }

  @Test
  void what_waits_while_the_store_cannot_be_written_is_written_afterwards_once() throws Exception {
    MemoryStore store = new MemoryStore();
    Failing failing = new Failing(store);
    try (KeepAudit keep = new KeepAudit(failing)) {
      keep(keep, entry(1));
      while (rows(store).isEmpty()) {
        Thread.sleep(20);
      }
    }

    assertThat(rows(store)).containsExactly(entry(1));
    assertThat(failing.fails).hasNegativeValue();
  }

  /** A store whose writes take as long as a test wants. */
  private static final class Stuck extends ForwardingStore {
    private final CountDownLatch entered = new CountDownLatch(1);
    private final CountDownLatch stuck = new CountDownLatch(1);
    private final AtomicInteger commits = new AtomicInteger();

    private Stuck(ClinicalStore store) {
      super(store);
    }

    @Override
    public <T> T write(Function<Writing, T> work) {
      entered.countDown();
      try {
        if (!stuck.await(60, TimeUnit.SECONDS)) {
          throw new AssertionError("Nobody let it go on.");
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      commits.incrementAndGet();
      return super.write(work);
    }
  }

  @Test
  void those_who_come_while_others_are_written_share_a_commit_and_are_told_after_it()
      throws Exception {
    MemoryStore store = new MemoryStore();
    Stuck waits = new Stuck(store);
    try (KeepAudit keep = new KeepAudit(waits, 1_000, Duration.ofMinutes(1))) {
      CompletableFuture<Boolean> first = disclose(keep, entry(0));
      waits.entered.await();
      List<CompletableFuture<Boolean>> others =
          IntStream.range(1, 50).mapToObj(number -> disclose(keep, entry(number))).toList();
      assertThat(first).isNotDone();
      assertThat(keep.rowsWaiting()).isEqualTo(50);

      waits.stuck.countDown();

      assertThat(first.get()).isTrue();
      for (CompletableFuture<Boolean> other : others) {
        assertThat(other.get()).isTrue();
      }
      assertThat(waits.commits).hasValue(2);
      assertThat(rows(store)).hasSize(50);
      assertThat(keep.rowsWaiting()).isZero();
      assertThat(keep.withheld()).isZero();
    }
  }

  @Test
  void what_was_not_given_since_its_row_could_not_be_written_is_told_so_afterwards()
      throws Exception {
    MemoryStore store = new MemoryStore();
    AtomicBoolean away = new AtomicBoolean(true);
    ForwardingStore failing =
        new ForwardingStore(store) {
          @Override
          public <T> T write(Function<Writing, T> work) {
            if (away.get()) {
              throw new StoreUnavailable("away", new IllegalStateException());
            }
            return super.write(work);
          }
        };
    try (KeepAudit keep = new KeepAudit(failing)) {
      assertThat(disclose(keep, entry(1)).get()).isFalse();
      // Known by now: whoever comes is told at once.
      assertThat(disclose(keep, entry(2))).isCompletedWithValue(false);
      assertThat(keep(keep, entry(3))).isCompletedWithValue(false);
      assertThat(keep.withheld()).isEqualTo(2);
      assertThat(keep.failed()).isPositive();

      away.set(false);
      Awaitility.await().until(() -> keep.rowsWaiting() == 0);

      assertThat(rows(store)).containsExactly(withheld(entry(1)), withheld(entry(2)), entry(3));
      assertThat(disclose(keep, entry(4)).get()).isTrue();
    }
  }

  @Test
  void nobody_waits_for_ever_for_a_commit_that_neither_succeeds_nor_fails() throws Exception {
    MemoryStore store = new MemoryStore();
    Stuck waits = new Stuck(store);
    try (KeepAudit keep = new KeepAudit(waits, 1_000, Duration.ofMillis(1))) {
      disclose(keep, entry(1));
      waits.entered.await();
      assertThat(disclose(keep, entry(2)).get()).isFalse();
      waits.stuck.countDown();
      Awaitility.await().until(() -> keep.rowsWaiting() == 0);

      // The first was under way: its row says that more was told than was.
      assertThat(rows(store)).contains(withheld(entry(2))).hasSize(2);
    }
  }

  /** A row that no database takes must not hold up those of all others. */
  @Test
  void rows_that_are_refused_are_lost_alone_and_their_answer_is_withheld() throws Exception {
    MemoryStore store = new MemoryStore();
    CountDownLatch together = new CountDownLatch(1);
    ForwardingStore picky =
        new ForwardingStore(store) {
          @Override
          public <T> T write(Function<Writing, T> work) {
            try {
              together.await();
            } catch (InterruptedException e) {
              throw new IllegalStateException(e);
            }
            return super.write(
                tx -> {
                  T done = work.apply(tx);
                  if (rows(tx).stream()
                      .anyMatch(row -> row.entity().equals(Optional.of("Procedure/2")))) {
                    throw new IllegalStateException("refused");
                  }
                  return done;
                });
          }
        };
    try (KeepAudit keep = new KeepAudit(picky)) {
      List<CompletableFuture<Boolean>> all =
          IntStream.range(1, 4).mapToObj(number -> disclose(keep, entry(number))).toList();
      together.countDown();

      assertThat(all.get(0).get()).isTrue();
      assertThat(all.get(1).get()).isFalse();
      assertThat(all.get(2).get()).isTrue();
      assertThat(rows(store)).containsExactly(entry(1), entry(3));
      assertThat(keep.rowsWaiting()).isZero();
      assertThat(keep.withheld()).isEqualTo(1);
    }
  }

  @Test
  void while_too_many_wait_there_is_no_room_and_afterwards_there_is() throws Exception {
    MemoryStore store = new MemoryStore();
    Stuck waits = new Stuck(store);
    try (KeepAudit keep = new KeepAudit(waits, 5, Duration.ofMinutes(1))) {
      int taken = 0;
      while (keep.hasRoom()) {
        keep(keep, entry(taken++));
      }
      keep(keep, entry(taken++));
      assertThat(keep.hasRoom()).isFalse();
      waits.stuck.countDown();
      while (!keep.hasRoom()) {
        Thread.sleep(10);
      }
      keep.close();
      assertThat(rows(store)).hasSize(taken);
    }
  }
}
