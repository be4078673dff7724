package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.Ward;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Values that cannot be built wrong, and the words that stand for a figure that is not given. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PlainValuesTest {
  private static final LocalDate DATE = LocalDate.parse("2026-03-05");

  @Test
  void confirmed_events_have_as_many_dates_as_there_are_or_none() {
    ConfirmedEvents two = new ConfirmedEvents(2, Optional.of(List.of(DATE, DATE.minusDays(1))));
    assertThat(two.dates()).contains(List.of(DATE.minusDays(1), DATE));
    assertThatCode(() -> new ConfirmedEvents(0, Optional.empty())).doesNotThrowAnyException();
    assertThatCode(() -> new ConfirmedEvents(7, Optional.empty())).doesNotThrowAnyException();
    assertThatThrownBy(() -> new ConfirmedEvents(-1, Optional.empty())).hasMessageContaining("-1");
    assertThatThrownBy(() -> new ConfirmedEvents(2, Optional.of(List.of(DATE))))
        .hasMessageContaining("2");
    assertThatThrownBy(() -> new ConfirmedEvents(0, Optional.of(List.of(DATE))))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void nothing_observed_or_predicted_is_a_tally_and_less_is_none() {
    assertThatCode(() -> new Tally(0, BigDecimal.ZERO, "x")).doesNotThrowAnyException();
    assertThatThrownBy(() -> new Tally(-1, BigDecimal.ONE, "x"))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Tally(1, new BigDecimal("-0.1"), "x"))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void ward_and_month_are_ordered_by_ward_then_month_and_have_a_path() {
    WardMonth first = new WardMonth(new Ward("A"), YearMonth.of(2026, 4));
    assertThat(first).isLessThan(new WardMonth(new Ward("B"), YearMonth.of(2026, 3)));
    assertThat(first).isLessThan(new WardMonth(new Ward("A"), YearMonth.of(2026, 5)));
    assertThat(first).isEqualByComparingTo(new WardMonth(new Ward("A"), YearMonth.of(2026, 4)));
    assertThat(first.path()).isEqualTo("A/2026-04");
  }

  @Test
  void a_comparison_is_drawn_up_to_p_of_0_05_and_not_above() {
    assertThat(Comparison.of(0.5, 0.05)).isEqualTo(Comparison.BETTER);
    assertThat(Comparison.of(0.5, 0.0501)).isEqualTo(Comparison.NO_DIFFERENT);
    assertThat(Comparison.of(1.5, 0.01)).isEqualTo(Comparison.WORSE);
    assertThat(Comparison.of(1, 0.01)).as("1 is not below 1").isEqualTo(Comparison.WORSE);
  }

  @Test
  void sums_of_a_sample_are_of_their_weekday() {
    assertThat(new WeeklySample.Sums(DayOfWeek.TUESDAY, 40, 10).weekdays())
        .containsExactly(DayOfWeek.TUESDAY);
  }

  @Test
  void every_reason_and_doubt_is_a_sentence() {
    for (Withheld reason : Withheld.values()) {
      assertThat(reason.sentence()).matches("[A-Z].+\\.");
    }
    for (WeeklyEstimate.Doubt doubt : WeeklyEstimate.Doubt.values()) {
      assertThat(doubt.sentence()).matches("[A-Z].+\\.");
    }
  }

  @Test
  void a_legend_ends_with_the_first_line_that_is_none_of_it() {
    assertThat(Legend.of(List.of("# table: A", "#", "# tag: b c", "x;y", "# late: no")))
        .isEqualTo(Map.of("table", "A", "tag", "b c"));
  }

  @Test
  void a_prediction_names_its_baseline_and_where_the_coefficients_come_from() {
    PredictedCauti predicted =
        new PredictedCauti(
            HospitalType.CRITICAL_ACCESS,
            Map.of(Factor.AVERAGE_STAY_DAYS, "6.5", Factor.ICU_SHARE, "0.1"));
    CoefficientTable table = CoefficientTable.of(HospitalType.CRITICAL_ACCESS);
    assertThat(predicted.baseline())
        .isEqualTo(table.legend("baseline") + ", table " + table.legend("table"));
    assertThat(predicted.source())
        .isEqualTo(
            table.legend("source")
                + " (version "
                + table.legend("version")
                + "; "
                + table.legend("tag")
                + ")");
    assertThatThrownBy(() -> table.legend("colour")).hasMessageContaining("colour");
  }
}
