package indwell.adapter.store.jdbc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.StoreCrowded;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** When whoever comes may still wait, on a clock that is put forward by hand. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WaitingRoomTest {
  private static final Duration STILL = PoolLimits.of(1).still();
  private static final Duration PATIENCE = PoolLimits.of(1).patience();

  private volatile long now;

  private final WaitingRoom room =
      new WaitingRoom(new PoolLimits(1, 1, PATIENCE, STILL), () -> now);

  private void pass(Duration time) {
    now += time.toNanos();
  }

  /** Waits until it is let on. */
  private static final class Guest {
    private final CountDownLatch waits = new CountDownLatch(1);
    private final CompletableFuture<String> turn = new CompletableFuture<>();
    private final CompletableFuture<Boolean> left = new CompletableFuture<>();

    static Guest of(WaitingRoom room) throws InterruptedException {
      Guest guest = new Guest();
      Thread thread = new Thread(() -> guest.wait(room));
      thread.setDaemon(true);
      thread.start();
      guest.waits.await();
      return guest;
    }

    private void wait(WaitingRoom room) {
      try {
        room.await(
            () -> {
              waits.countDown();
              return turn.join();
            });
        left.complete(true);
      } catch (SQLException e) {
        left.completeExceptionally(e);
      }
    }

    void letOn() {
      turn.complete("on");
      assertThat(left.join()).isTrue();
    }
  }

  private void waitInVain() {
    assertThatThrownBy(
            () ->
                room.await(
                    () -> {
                      pass(PATIENCE);
                      throw new SQLException("none");
                    }))
        .isInstanceOf(StoreCrowded.class);
  }

  @Test
  void the_page_on_failures_names_the_limits_of_the_service() throws IOException {
    assertThat(Files.readString(Path.of("docs/failure.md")))
        .contains("none comes back for three seconds | three may wait for one, for 10 s at most");
    assertThat(PoolLimits.of(1))
        .isEqualTo(new PoolLimits(1, 3, Duration.ofSeconds(10), Duration.ofSeconds(3)));
  }

  @Test
  void is_not_crowded_before_nobody_got_on_for_so_long() throws Exception {
    Guest guest = Guest.of(room);
    pass(STILL.minusNanos(1));
    assertThat(room.crowded()).isFalse();
    pass(Duration.ofNanos(1));
    assertThat(room.crowded()).isTrue();
    guest.letOn();
    assertThat(room.crowded()).isFalse();
  }

  @Test
  void is_not_crowded_by_who_comes_after_a_long_time_without_anybody() throws Exception {
    pass(Duration.ofHours(1));
    Guest guest = Guest.of(room);
    assertThat(room.crowded()).isFalse();
    guest.letOn();
  }

  @Test
  void who_comes_right_after_one_who_waited_in_vain_finds_it_as_crowded() throws Exception {
    waitInVain();
    Guest next = Guest.of(room);
    assertThat(room.crowded()).isTrue();
    assertThatThrownBy(() -> room.await(() -> "never")).isInstanceOf(StoreCrowded.class);
    next.letOn();
    assertThat(room.await(() -> "at last")).isEqualTo("at last");
  }

  @Test
  void forgets_who_waited_in_vain_once_nobody_came_for_a_while() throws Exception {
    waitInVain();
    pass(STILL);
    Guest next = Guest.of(room);
    assertThat(room.crowded()).isFalse();
    next.letOn();
  }

  @Test
  void a_failure_before_patience_is_over_is_not_called_crowded() {
    assertThatThrownBy(
            () ->
                room.await(
                    () -> {
                      throw new SQLException("refused");
                    }))
        .isInstanceOf(SQLException.class)
        .hasMessage("refused");
  }
}
