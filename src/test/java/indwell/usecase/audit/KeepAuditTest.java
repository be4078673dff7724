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
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.stream.IntStream;
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

  private static List<AuditEntry> rows(ClinicalStore store) {
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
    return store.read(state -> state.audited(all)).stream().map(Audited::entry).toList();
  }

  @Test
  void rows_are_written_in_their_order_and_none_is_lost_at_the_end() {
    MemoryStore store = new MemoryStore();
    try (KeepAudit keep = new KeepAudit(store)) {
      IntStream.range(0, 3_000).forEach(number -> keep.add(entry(number)));
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
      keep.add(entry(1));
      while (rows(store).isEmpty()) {
        Thread.sleep(20);
      }
    }

    assertThat(rows(store)).containsExactly(entry(1));
    assertThat(failing.fails).hasNegativeValue();
  }

  @Test
  void while_too_many_wait_there_is_no_room_and_afterwards_there_is() throws Exception {
    CountDownLatch stuck = new CountDownLatch(1);
    MemoryStore store = new MemoryStore();
    ForwardingStore waits =
        new ForwardingStore(store) {
          @Override
          public <T> T write(Function<Writing, T> work) {
            try {
              stuck.await(10, TimeUnit.SECONDS);
            } catch (InterruptedException e) {
              Thread.currentThread().interrupt();
            }
            return super.write(work);
          }
        };
    try (KeepAudit keep = new KeepAudit(waits, 5)) {
      int taken = 0;
      while (keep.hasRoom()) {
        keep.add(entry(taken++));
      }
      keep.add(entry(taken++));
      assertThat(keep.hasRoom()).isFalse();
      stuck.countDown();
      while (!keep.hasRoom()) {
        Thread.sleep(10);
      }
      keep.close();
      assertThat(rows(store)).hasSize(taken);
    }
  }
}
