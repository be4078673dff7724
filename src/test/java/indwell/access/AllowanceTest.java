package indwell.access;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class AllowanceTest {
  private static final Instant T = Instant.parse("2026-03-10T12:00:00Z");
  private final Allowance allowance = new Allowance(3, Duration.ofSeconds(6));

  @Test
  void so_many_may_come_in_a_row_and_the_next_one_waits() {
    for (int i = 0; i < 3; i++) {
      assertThat(allowance.take("a", T)).isEmpty();
    }

    assertThat(allowance.take("a", T)).contains(Duration.ofSeconds(2));
    assertThat(allowance.take("a", T.plusMillis(1_999))).contains(Duration.ofSeconds(1));
    assertThat(allowance.take("a", T.plusMillis(2_000))).isEmpty();
    assertThat(allowance.take("a", T.plusMillis(2_000))).isPresent();
  }

  @Test
  void each_has_its_own_and_none_saves_up_more() {
    allowance.take("a", T);
    Instant later = T.plusSeconds(3_600);
    for (int i = 0; i < 3; i++) {
      assertThat(allowance.take("a", later)).isEmpty();
      assertThat(allowance.take("b", later)).isEmpty();
    }

    assertThat(allowance.take("a", later)).isPresent();
    assertThat(allowance.take("b", later)).isPresent();
  }

  @Test
  void a_clock_that_goes_back_gives_nothing_and_takes_nothing() {
    for (int i = 0; i < 3; i++) {
      allowance.take("a", T);
    }

    assertThat(allowance.take("a", T.minusSeconds(60))).contains(Duration.ofSeconds(2));
  }
}
