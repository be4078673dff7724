package indwell.domain.surveillance;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Control chart of the days between rare events. A gap above the upper limit is an improvement
 * (rule K5); there is no lower limit but 0.
 *
 * <p>Rule CHART-G. Source: Provost, Murray, The Health Care Data Guide, 2011, pp. 228-229, restated
 * (SigmaXL documentation, rare-events g chart), rules K3, K4, K7; probability limits: Minitab
 * support, G chart, methods and formulas (published), rule K6.
 *
 * @param gaps days between one event and the next, in their order; not empty
 */
public record GChart(List<Long> gaps) {
  /** Tail of the probability limits, that of three standard errors of a normal distribution. */
  private static final double TAIL = 0.00135;

  public GChart {
    gaps = List.copyOf(gaps);
    if (gaps.isEmpty() || gaps.stream().anyMatch(gap -> gap < 0)) {
      throw new IllegalArgumentException("Gaps " + gaps + " are none, or one is negative");
    }
  }

  /**
   * The chart of events by their dates, in any order; two events on one date make a gap of 0 (rule
   * K7). Empty for fewer than two events.
   */
  public static Optional<GChart> ofDates(List<LocalDate> dates) {
    List<LocalDate> inOrder = dates.stream().sorted().toList();
    List<Long> gaps = new ArrayList<>();
    for (int i = 1; i < inOrder.size(); i++) {
      gaps.add(ChronoUnit.DAYS.between(inOrder.get(i - 1), inOrder.get(i)));
    }
    return gaps.isEmpty() ? Optional.empty() : Optional.of(new GChart(gaps));
  }

  /** The mean gap in days. */
  public double centre() {
    return (double) gaps.stream().mapToLong(Long::longValue).sum() / gaps.size();
  }

  /** Upper limit in days: about four times the centre. */
  public double upper() {
    double centre = centre();
    return centre + 3 * Math.sqrt(centre * (centre + 1));
  }

  /** The theoretical median, {@code ln 2} times the centre: the line that run rules count from. */
  public double median() {
    return Math.log(2) * centre();
  }

  /** Upper limit by probability: the 0.99865 quantile of the geometric distribution, in days. */
  public long upperByProbability() {
    double centre = centre();
    if (centre == 0) {
      return 0;
    }
    // P(X > k) = (centre / (centre + 1))^(k + 1) for a geometric count of days with this mean.
    double days = Math.log(TAIL) / Math.log(centre / (centre + 1));
    return Math.max(0, (long) Math.ceil(days) - 1);
  }

  /** Whether three gaps in a row are 0, the test for events that come too close (rule K6). */
  public boolean threeZerosInARow() {
    int run = 0;
    for (long gap : gaps) {
      run = gap == 0 ? run + 1 : 0;
      if (run == 3) {
        return true;
      }
    }
    return false;
  }
}
