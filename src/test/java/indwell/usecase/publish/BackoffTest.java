package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Full jitter: any time up to a bound that doubles. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BackoffTest {
  private static Backoff with(double chance) {
    return new Backoff(Duration.ofSeconds(1), Duration.ofSeconds(300), () -> chance);
  }

  @Test
  void the_bound_doubles_up_to_the_longest() {
    double almost = Math.nextDown(1.0);
    assertThat(
            IntStream.of(1, 2, 3, 9, 10, 31, 1_000_000)
                .mapToObj(with(almost)::after)
                .map(wait -> wait.plusMillis(1).toSeconds()))
        .containsExactly(1L, 2L, 4L, 256L, 300L, 300L, 300L);
  }

  @Test
  void any_time_below_the_bound_may_be_drawn() {
    assertThat(with(0).after(5)).isZero();
    assertThat(with(0.5).after(5)).isEqualTo(Duration.ofSeconds(8));
  }

  @Test
  void one_seed_gives_one_series() {
    assertThat(series(7)).isEqualTo(series(7)).isNotEqualTo(series(8));
  }

  private static List<Duration> series(long seed) {
    Random random = new Random(seed);
    Backoff backoff =
        new Backoff(Duration.ofSeconds(1), Duration.ofSeconds(300), random::nextDouble);
    return IntStream.rangeClosed(1, 10).mapToObj(backoff::after).toList();
  }
}
