package indwell.domain.surveillance;

import java.util.List;
import java.util.Optional;

/**
 * Control chart of a rate: events in areas of opportunity of different size. The centre is the rate
 * of all points together; each point has limits of its own, three standard errors away, and never
 * below 0.
 *
 * <p>Rule CHART-U. Source: Montgomery, Introduction to Statistical Quality Control, chapter 7
 * (rules K1, K2).
 *
 * @param centre events a unit
 * @param limits one for each point, in their order
 */
public record UChart(double centre, List<Limits> limits) {
  /** Points that are advised at least (rule K2). */
  public static final int ENOUGH_POINTS = 25;

  public UChart {
    limits = List.copyOf(limits);
  }

  /**
   * A point to be charted.
   *
   * @param units size of the area of opportunity, such as catheter days; positive
   */
  public record Point(long events, double units) {
    public Point {
      if (!(units > 0)) {
        throw new IllegalArgumentException("Units " + units + " are not positive");
      }
    }

    /** Events a unit. */
    public double rate() {
      return events / units;
    }
  }

  /** Lower and upper control limit, events a unit. */
  public record Limits(double lower, double upper) {
    /** Whether the rate lies outside; a rate on a limit does not. */
    public boolean excludes(double rate) {
      return rate < lower || rate > upper;
    }
  }

  /** The chart; empty without any point. */
  public static Optional<UChart> of(List<Point> points) {
    if (points.isEmpty()) {
      return Optional.empty();
    }
    double centre =
        points.stream().mapToLong(Point::events).sum()
            / points.stream().mapToDouble(Point::units).sum();
    return Optional.of(
        new UChart(centre, points.stream().map(point -> limits(centre, point.units())).toList()));
  }

  private static Limits limits(double centre, double units) {
    double away = 3 * Math.sqrt(centre / units);
    return new Limits(Math.max(0, centre - away), centre + away);
  }
}
