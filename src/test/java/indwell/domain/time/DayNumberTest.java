package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class DayNumberTest {

  @Test
  void it_starts_at_one() {
    assertThat(DayNumber.FIRST).isEqualTo(new DayNumber(1));
    assertThatThrownBy(() -> new DayNumber(0)).hasMessage("Day numbers start at 1, not 0");
  }

  @Test
  void it_is_ordered() {
    DayNumber third = new DayNumber(3);

    assertThat(third.isAtLeast(DayNumber.FIRST.next())).isTrue();
    assertThat(third.isAtLeast(third)).isTrue();
    assertThat(third.isAtLeast(third.next())).isFalse();
    assertThat(third).isGreaterThan(DayNumber.FIRST).isLessThan(third.next());
  }
}
