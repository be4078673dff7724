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
 * KDIGO's urine-output stages read by the mean over a window that is covered without a gap. Volumes
 * of intervals that straddle the edge of a window are split in proportion to time; overlapping
 * intervals add their volumes and cover the time once; missing time is unknown, never zero.
 *
 * <p>Source: KDIGO 2012 AKI guideline, Table 2. The comparison is strict: 0.5 is not below 0.5.
 */
public final class MeanUrineOutput {
  private static final Fraction HALF = Fraction.of(new BigDecimal("0.5"));
  private static final Fraction THREE_TENTHS = Fraction.of(new BigDecimal("0.3"));

  private final List<UrineOutput> intervals;
  private final Instant end;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order; those that end after {@code end} are left out
   * @param end end of all windows
   * @param kg body weight in kg, positive
   */
  public MeanUrineOutput(List<UrineOutput> intervals, Instant end, BigDecimal kg) {
    this.intervals =
        intervals.stream()
            .filter(one -> !one.at().isAfter(end))
            .sorted(Comparator.comparing(UrineOutput::from))
            .toList();
    this.end = end;
    this.kg = kg;
  }

  /** The stage; empty when not even the last 6 hours are covered. */
  public Optional<UrineStage> stage() {
    Optional<Fraction> six = ratePerKgHour(6);
    Optional<Fraction> twelve = ratePerKgHour(12);
    Optional<Fraction> day = ratePerKgHour(24);
    if (day.isPresent() && day.get().compareTo(THREE_TENTHS) < 0) {
      return Optional.of(stage(3, 24, day.get()));
    }
    if (twelve.isPresent() && twelve.get().isZero()) {
      return Optional.of(stage(3, 12, twelve.get()));
    }
    if (twelve.isPresent() && twelve.get().compareTo(HALF) < 0) {
      return Optional.of(stage(2, 12, twelve.get()));
    }
    return six.map(rate -> stage(rate.compareTo(HALF) < 0 ? 1 : 0, 6, rate));
  }

  private UrineStage stage(int stage, int windowHours, Fraction rate) {
    return new UrineStage(stage, windowHours, rate.rounded(4), kg);
  }

  /** Mean output over the last so many hours; empty unless they are covered without a gap. */
  private Optional<Fraction> ratePerKgHour(int hours) {
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
