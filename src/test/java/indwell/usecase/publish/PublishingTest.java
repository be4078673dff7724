package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.AnyStore;
import indwell.usecase.RandomBodies;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The record arrives at the hospital, in order, and follows what changes. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PublishingTest {
  @TempDir Path folder;

  static void drained(Bench bench) {
    await()
        .atMost(Duration.ofSeconds(60))
        .untilAsserted(
            () -> assertThat(bench.drained()).as(bench.outbox().backlog().toString()).isTrue());
  }

  @ParameterizedTest
  @EnumSource
  void every_store_arrives(AnyStore kind) throws Exception {
    try (Bench bench = new Bench(kind.open(folder), Addressing.OURS)) {
      bench.record(new RandomBodies(17).bodies());
      bench.publisher(1);
      drained(bench);
      bench.assertEqual();
      bench.record(new RandomBodies(18).bodies());
      drained(bench);
      bench.assertEqual();
      bench.assertNeverBackwards();
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_server_that_gives_its_own_ids_gets_each_resource_once(AnyStore kind) throws Exception {
    try (Bench bench = new Bench(kind.open(folder), Addressing.THEIRS)) {
      bench.record(new RandomBodies(19).bodies());
      bench.publisher(1);
      drained(bench);
      bench.record(new RandomBodies(20).bodies());
      drained(bench);
      bench.assertEqual();
      bench.assertNeverBackwards();
    }
  }

  @Test
  void nothing_is_refused_for_a_reference_because_of_the_order() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(21).bodies());
      bench.publisher(1);
      drained(bench);
      long resources = bench.stored().size();
      assertThat(bench.hospital.asked).hasSize((int) resources);
    }
  }
}
