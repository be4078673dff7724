package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Limits of the house and of a ward, and from when on each holds. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SettingsHistoryTest {
  private static final LocalDate FIRST = LocalDate.parse("2026-03-01");
  private static final LocalDate SECOND = LocalDate.parse("2026-03-10");

  private static OwnSettings nothing(LocalDate from) {
    return new OwnSettings(
        from,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  @Test
  void an_entry_holds_from_its_date_until_the_next_one_begins() {
    SettingsHistory history = new SettingsHistory(List.of(nothing(SECOND), nothing(FIRST)));

    assertThat(history.entries()).extracting(OwnSettings::from).containsExactly(FIRST, SECOND);
    assertThat(history.on(FIRST.minusDays(1))).isEmpty();
    assertThat(history.on(FIRST)).contains(nothing(FIRST));
    assertThat(history.on(SECOND.minusDays(1))).contains(nothing(FIRST));
    assertThat(history.on(SECOND)).contains(nothing(SECOND));
    assertThat(SettingsHistory.NONE.on(FIRST)).isEmpty();
  }

  @Test
  void an_entry_that_begins_on_a_date_held_on_none_before_it() {
    SettingsHistory history = new SettingsHistory(List.of(nothing(FIRST), nothing(SECOND)));

    assertThat(history.begunBefore(FIRST)).isEmpty();
    assertThat(history.begunBefore(SECOND)).containsExactly(nothing(FIRST));
    assertThat(history.begunBefore(SECOND.plusDays(1))).hasSize(2);
  }

  @Test
  void two_entries_of_one_date_contradict_each_other() {
    assertThatThrownBy(() -> new SettingsHistory(List.of(nothing(FIRST), nothing(FIRST))))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void what_a_ward_leaves_out_is_as_the_house_has_it() {
    assertThat(nothing(FIRST).over(RuleSettings.DEFAULTS)).isEqualTo(RuleSettings.DEFAULTS);
  }

  @Test
  void what_a_ward_sets_goes_before_what_the_house_has() {
    OwnSettings all =
        new OwnSettings(
            FIRST,
            Optional.of(LocalTime.of(7, 0)),
            Optional.of(LocalTime.of(10, 0)),
            Optional.of(5),
            Optional.of(Duration.ofHours(4)),
            Optional.of(Duration.ofHours(6)),
            Optional.of(Duration.ofHours(48)),
            Optional.of(BigDecimal.ONE),
            Optional.of(UrineReading.CONSECUTIVE));

    assertThat(all.over(RuleSettings.DEFAULTS))
        .isEqualTo(
            new RuleSettings(
                LocalTime.of(10, 0),
                5,
                Duration.ofHours(4),
                Duration.ofHours(6),
                Duration.ofHours(48),
                BigDecimal.ONE,
                UrineReading.CONSECUTIVE));
  }

  @Test
  void a_limit_of_nothing_is_one_and_a_negative_one_is_none() {
    Duration none = Duration.ZERO;
    Duration less = Duration.ofMillis(-1);
    assertThatCode(() -> limits(0, none, none, none, BigDecimal.ZERO)).doesNotThrowAnyException();
    assertThatThrownBy(() -> limits(-1, none, none, none, BigDecimal.ZERO))
        .hasMessageContaining("securementGoodDays");
    assertThatThrownBy(() -> limits(0, less, none, none, BigDecimal.ZERO))
        .hasMessageContaining("outputChartingWithin");
    assertThatThrownBy(() -> limits(0, none, less, none, BigDecimal.ZERO))
        .hasMessageContaining("careCheckWithin");
    assertThatThrownBy(() -> limits(0, none, none, less, BigDecimal.ZERO))
        .hasMessageContaining("postoperativeWithin");
    assertThatThrownBy(() -> limits(0, none, none, none, new BigDecimal("-0.1")))
        .hasMessageContaining("balloonToleranceMl");
  }

  private static RuleSettings limits(
      int goodDays, Duration charting, Duration check, Duration surgery, BigDecimal tolerance) {
    return new RuleSettings(
        LocalTime.NOON, goodDays, charting, check, surgery, tolerance, UrineReading.MEAN);
  }
}
