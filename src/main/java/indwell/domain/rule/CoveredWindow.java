package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.time.Span;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Mean output over windows that end at one instant. Volumes of intervals that straddle the edge of
 * a window are split in proportion to time; overlapping intervals add their volumes and cover the
 * time once; missing time is unknown, never zero.
 */
final class CoveredWindow {
  private final List<UrineOutput> intervals;
  private final Instant end;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order; those that end after {@code end} are left out
   * @param end end of all windows
   * @param kg body weight in kg, positive
   */
  CoveredWindow(List<UrineOutput> intervals, Instant end, BigDecimal kg) {
    this.intervals =
        intervals.stream()
            .filter(one -> !one.at().isAfter(end))
            .sorted(Comparator.comparing(UrineOutput::from))
            .toList();
    this.end = end;
    this.kg = kg;
  }

  /**
   * Mean output in mL/kg/h over the last so many hours; empty unless they are covered without a
   * gap.
   */
  Optional<Fraction> ratePerKgHour(int hours) {
    Span window = Span.between(end.minus(Duration.ofHours(hours)), end);
    List<UrineOutput> inside = new ArrayList<>();
    for (UrineOutput one : intervals) {
      if (one.at().isAfter(window.start())) {
        inside.add(one);
      }
    }
    if (!covered(window, inside)) {
      return Optional.empty();
    }
    Fraction volume =
        inside.stream().map(one -> share(one, window)).reduce(Fraction.ZERO, Fraction::plus);
    return Optional.of(volume.over(hours).over(Fraction.of(kg)));
  }

  private static boolean covered(Span window, List<UrineOutput> byStart) {
    Instant coveredTo = window.start();
    for (UrineOutput one : byStart) {
      if (one.from().isAfter(coveredTo)) {
        return false;
      }
      coveredTo = one.at().isAfter(coveredTo) ? one.at() : coveredTo;
    }
    return !coveredTo.isBefore(window.end().orElseThrow());
  }

  private static Fraction share(UrineOutput one, Span window) {
    Fraction volume = Fraction.of(one.volumeMl());
    Span interval = Span.between(one.from(), one.at());
    long inside =
        interval
            .overlap(window)
            .map(both -> Duration.between(both.start(), both.end().orElseThrow()).toMillis())
            .orElse(0L);
    long whole = Duration.between(one.from(), one.at()).toMillis();
    return inside == whole ? volume : volume.times(inside).over(whole);
  }
}
