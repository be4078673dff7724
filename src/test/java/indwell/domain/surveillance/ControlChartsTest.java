package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import indwell.domain.surveillance.UChart.Limits;
import indwell.domain.surveillance.UChart.Point;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** CHART-1 to CHART-5 and what follows from the rules beside them. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ControlChartsTest {
  private static final Offset<Double> SEVEN_DECIMALS = within(0.00000005);

  /** Source: Montgomery, chapter 7, Example 7.5: defects on rolls, units of 50 square metres. */
  @Test
  @DisplayName("CHART-1: variable area, ubar 1.4232558")
  void u_chart_of_variable_areas() {
    int[] defects = {14, 12, 20, 11, 7, 10, 21, 16, 19, 23};
    int[] areas = {500, 400, 650, 500, 475, 500, 600, 525, 600, 625};
    List<Point> rolls = new ArrayList<>();
    for (int i = 0; i < defects.length; i++) {
      rolls.add(new Point(defects[i], areas[i] / 50.0));
    }
    UChart chart = UChart.of(rolls).orElseThrow();

    assertThat(chart.centre()).isCloseTo(1.4232558, SEVEN_DECIMALS);
    limits(chart, 1, 0.2914739, 2.5550377);
    limits(chart, 2, 0.1578852, 2.6886264);
    limits(chart, 3, 0.4306174, 2.4158942);
    limits(chart, 10, 0.4109593, 2.4355523);
  }

  /** Source: Montgomery, chapter 7, Example 7.4: 20 samples of 50. */
  @Test
  @DisplayName("CHART-2: constant area, ubar 0.074, lower limit 0")
  void u_chart_of_a_constant_area() {
    UChart chart =
        UChart.of(
                Stream.of(2, 3, 8, 1, 1, 4, 1, 4, 5, 1, 8, 2, 4, 3, 4, 1, 8, 3, 7, 4)
                    .map(count -> new Point(count, 50))
                    .toList())
            .orElseThrow();

    assertThat(chart.centre()).isCloseTo(0.074, SEVEN_DECIMALS);
    limits(chart, 13, 0, 0.1894123);
  }

  /**
   * Source: eSundhed, Capital Region of Denmark, 2015-2016. The page gives the sums and the means
   * of the monthly limits; the months themselves stand at the source, so that here they are taken
   * as equal: the mean of the true limits can only lie further from the centre (Jensen's
   * inequality).
   */
  @Test
  @DisplayName("CHART-3: 42.24020 per 10,000; mean limits 35.68294 and 48.79746")
  void u_chart_of_a_region() {
    double months = 24;
    Point month = new Point(8983, 2_126_647.125);
    double centre = UChart.of(List.of(month)).orElseThrow().centre();
    assertThat(centre * 10_000).isCloseTo(42.24020, within(0.000005));
    assertThat((35.68294 + 48.79746) / 2).isCloseTo(centre * 10_000, within(0.00001));

    double away = 3 * Math.sqrt(centre / (2_126_647.125 / months)) * 10_000;
    assertThat(48.79746 - centre * 10_000).isBetween(away, away * 1.005);
  }

  @Test
  void a_rate_on_a_limit_is_not_outside() {
    Limits limits = new Limits(0.25, 0.75);
    assertThat(limits.excludes(0.25)).isFalse();
    assertThat(limits.excludes(0.75)).isFalse();
    assertThat(limits.excludes(0.7500001)).isTrue();
    assertThat(limits.excludes(0.2499999)).isTrue();
  }

  @Test
  void no_point_makes_no_chart_and_no_area_makes_no_point() {
    assertThat(UChart.of(List.of())).isEmpty();
    assertThatThrownBy(() -> new Point(3, 0)).isInstanceOf(IllegalArgumentException.class);
  }

  /** Derived from rules K3, K4 (Provost and Murray 2011, restated). */
  @Test
  @DisplayName("CHART-4: 21 gaps, gbar 25.857143, upper 104.914343, median line 17.9228")
  void g_chart_of_a_teaching_series() {
    GChart chart =
        new GChart(
            Stream.of(
                    10, 22, 27, 12, 17, 43, 13, 34, 42, 19, 13, 13, 11, 15, 7, 31, 44, 77, 35, 8,
                    50)
                .map(Integer::longValue)
                .toList());

    assertThat(chart.centre()).isCloseTo(25.857143, within(0.0000005));
    assertThat(chart.upper()).isCloseTo(104.914343, within(0.0000005));
    assertThat(chart.median()).isCloseTo(17.9228, within(0.00005));
    assertThat(chart.threeZerosInARow()).isFalse();
  }

  /** Derived from rule K3. */
  @Test
  @DisplayName("CHART-5: all gaps 0, upper 0")
  void g_chart_without_gaps() {
    GChart chart = new GChart(Collections.nCopies(3, 0L));
    assertThat(chart.centre()).isZero();
    assertThat(chart.upper()).isZero();
    assertThat(chart.upperByProbability()).isZero();
    assertThat(chart.threeZerosInARow()).isTrue();
    assertThat(new GChart(List.of(0L, 0L, 5L, 0L)).threeZerosInARow()).isFalse();
  }

  /**
   * Source: Minitab, G chart, methods and formulas: quantile 0.99865 of the geometric distribution,
   * the first gap whose cumulative probability reaches it.
   */
  @Test
  void the_limit_by_probability_is_a_quantile_of_the_geometric_distribution() {
    GChart chart = new GChart(List.of(4L, 21L, 32L));
    double p = 1 / (chart.centre() + 1);
    long upper = chart.upperByProbability();
    assertThat(cumulative(p, upper)).isGreaterThanOrEqualTo(0.99865);
    assertThat(cumulative(p, upper - 1)).isLessThan(0.99865);
  }

  private static double cumulative(double p, long gap) {
    return 1 - Math.pow(1 - p, gap + 1.0);
  }

  /** Rule K7: the difference of the dates; two events on one date give 0. */
  @Test
  void gaps_are_differences_of_dates() {
    LocalDate first = LocalDate.of(2024, 2, 27);
    assertThat(
            GChart.ofDates(List.of(first.plusDays(9), first, first, first.plusDays(4)))
                .orElseThrow()
                .gaps())
        .containsExactly(0L, 4L, 5L);
    assertThat(GChart.ofDates(List.of(first))).isEmpty();
  }

  private static void limits(UChart chart, int place, double lower, double upper) {
    Limits limits = chart.limits().get(place - 1);
    assertThat(limits.lower()).isCloseTo(lower, SEVEN_DECIMALS);
    assertThat(limits.upper()).isCloseTo(upper, SEVEN_DECIMALS);
  }
}
