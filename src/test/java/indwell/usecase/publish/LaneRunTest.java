package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.upstream.Credentials;
import indwell.port.LaneHold;
import indwell.usecase.RandomBodies;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** A run of one lane by itself; what many of them do together is for the publisher's tests. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LaneRunTest {
  private static final Instant NOW = Instant.parse("2026-06-02T00:00:00Z");
  private static final Backoff BACKOFF =
      new Backoff(Duration.ofMinutes(1), Duration.ofHours(1), () -> 1.0);

  private static LaneRun run(Bench bench) {
    return new LaneRun(
        bench.store,
        bench.outbox(),
        new Courier(bench.upstream(Credentials.none()), bench.addressing),
        new Connection(bench.outbox(), BACKOFF),
        new Claims(),
        BACKOFF,
        Clock.fixed(NOW, ZoneOffset.UTC),
        () -> true);
  }

  private static LaneHold hold(boolean parked, Instant nextTry) {
    return new LaneHold("", parked, 1, nextTry, "Location/x", "422 (invalid)", NOW);
  }

  @Test
  void whoever_saw_a_lane_free_before_it_was_held_sends_nothing_of_it() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(37).bodies());
      bench.outbox().take(100_000);
      LaneRun lanes = run(bench);

      LaneHold parked = hold(true, NOW.minusSeconds(1));
      bench.outbox().hold(parked);
      assertThat(lanes.run("")).isZero();
      assertThat(bench.outbox().held("")).contains(parked);

      LaneHold later = hold(false, NOW.plusSeconds(1));
      bench.outbox().hold(later);
      assertThat(lanes.run("")).isZero();
      assertThat(bench.outbox().held("")).contains(later);
      assertThat(bench.hospital.asked).isEmpty();
    }
  }

  @Test
  void a_lane_whose_time_has_come_is_sent_and_no_longer_held() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(37).bodies());
      bench.outbox().take(100_000);
      bench.outbox().hold(hold(false, NOW));
      int wards = bench.outbox().waiting("", 1_000).size();

      assertThat(wards).isPositive();
      assertThat(run(bench).run("")).isEqualTo(wards);
      assertThat(bench.outbox().held("")).isEmpty();
    }
  }
}
