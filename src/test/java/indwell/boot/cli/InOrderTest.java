package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class InOrderTest {
  private final List<Integer> taken = new ArrayList<>();

  @Test
  void results_come_in_the_order_of_the_work_whatever_the_threads_do() {
    Random random = new Random(20_261_127);
    try (InOrder<Integer> work = new InOrder<>(4, 16, Long.MAX_VALUE, taken::add)) {
      for (int i = 0; i < 500; i++) {
        int number = i;
        int spins = random.nextInt(20_000);
        work.add(
            1,
            () -> {
              for (int spin = 0; spin < spins; spin++) {
                Thread.onSpinWait();
              }
              return number;
            });
      }
      work.finish();
    }
    assertThat(taken).isEqualTo(IntStream.range(0, 500).boxed().toList());
  }

  @Test
  void no_more_than_so_many_results_are_held() {
    assertThat(mostHeld(5, Long.MAX_VALUE)).isEqualTo(5);
  }

  @Test
  void no_more_than_so_much_weight_is_held() {
    assertThat(mostHeld(Integer.MAX_VALUE, 30)).isEqualTo(3);
  }

  /** Counts what has begun or waits to, and has not been handed on. */
  private int mostHeld(int most, long mostWeight) {
    AtomicInteger held = new AtomicInteger();
    AtomicInteger mostHeld = new AtomicInteger();
    try (InOrder<Integer> work =
        new InOrder<>(2, most, mostWeight, one -> held.decrementAndGet())) {
      // The first is slow, so that all others wait for it.
      for (int i = 0; i < 40; i++) {
        int number = i;
        work.add(
            10,
            () -> {
              if (number % 10 == 0) {
                Thread.sleep(20);
              }
              return number;
            });
        mostHeld.accumulateAndGet(held.incrementAndGet(), Math::max);
      }
      work.finish();
    }
    assertThat(held).hasValue(0);
    return mostHeld.get();
  }

  @Test
  void work_that_weighs_more_than_may_be_held_is_done_alone() {
    try (InOrder<Integer> work = new InOrder<>(2, 10, 5, taken::add)) {
      work.add(100, () -> 1);
      work.add(100, () -> 2);
      work.finish();
    }
    assertThat(taken).containsExactly(1, 2);
  }

  @Test
  void work_that_fails_fails_the_whole() {
    try (InOrder<Integer> work = new InOrder<>(1, 1, 1, taken::add)) {
      work.add(
          1,
          () -> {
            throw new IllegalArgumentException("17");
          });
      assertThatThrownBy(work::finish)
          .isInstanceOf(IllegalStateException.class)
          .hasRootCauseMessage("17");
    }
  }
}
