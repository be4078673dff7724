package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * KDIGO's urine-output stages read hour by hour: every single charted interval below the threshold,
 * back from the end without a gap. It asks for intervals of at most an hour: a longer one says
 * nothing about its single hours, and neither do two that overlap.
 *
 * <p>Source: KDIGO 2012 AKI guideline, Table 2; the reading is the "UOcons" of Allen 2020, BMC
 * Nephrol, doi:10.1186/s12882-019-1678-2.
 */
public final class ConsecutiveUrineOutput {
  private static final Duration HOUR = Duration.ofHours(1);
  private static final Fraction HALF = Fraction.of(new BigDecimal("0.5"));
  private static final Fraction THREE_TENTHS = Fraction.of(new BigDecimal("0.3"));

  private final List<UrineOutput> newestFirst;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order; those that end after {@code end} are left out
   * @param end end of the newest interval that is looked at
   * @param kg body weight in kg, positive
   */
  public ConsecutiveUrineOutput(List<UrineOutput> intervals, Instant end, BigDecimal kg) {
    List<UrineOutput> ordered = new ArrayList<>(intervals);
    ordered.removeIf(one -> one.at().isAfter(end));
    ordered.sort(Comparator.comparing(UrineOutput::at).reversed());
    this.newestFirst = ordered;
    this.kg = kg;
  }

  /** The stage; empty when nothing is charted or the last interval is longer than an hour. */
  public Optional<UrineStage> stage() {
    if (newestFirst.isEmpty() || length(newestFirst.get(0)).compareTo(HOUR) > 0) {
      return Optional.empty();
    }
    if (lasting(24, THREE_TENTHS)) {
      return Optional.of(stage(3, 24));
    }
    if (lasting(12, HALF)) {
      return Optional.of(highest(12).isZero() ? stage(3, 12) : stage(2, 12));
    }
    return Optional.of(lasting(6, HALF) ? stage(1, 6) : stage(0, 6));
  }

  private UrineStage stage(int stage, int windowHours) {
    return new UrineStage(
        UrineReading.CONSECUTIVE, stage, windowHours, highest(windowHours).rounded(4), kg);
  }

  /** Whether every charted interval of the last so many hours was below the threshold. */
  private boolean lasting(int hours, Fraction threshold) {
    Duration run = Duration.ZERO;
    Instant expectedEnd = newestFirst.get(0).at();
    for (UrineOutput one : newestFirst) {
      boolean unbroken = one.at().equals(expectedEnd) && length(one).compareTo(HOUR) <= 0;
      if (!unbroken || ratePerKgHour(one).compareTo(threshold) >= 0) {
        return false;
      }
      run = run.plus(length(one));
      if (run.compareTo(HOUR.multipliedBy(hours)) >= 0) {
        return true;
      }
      expectedEnd = one.from();
    }
    return false;
  }

  /** The highest rate among the intervals that reach into the last so many hours. */
  private Fraction highest(int hours) {
    Instant from = newestFirst.get(0).at().minus(HOUR.multipliedBy(hours));
    return newestFirst.stream()
        .filter(one -> one.at().isAfter(from))
        .map(this::ratePerKgHour)
        .max(Comparator.naturalOrder())
        .orElse(Fraction.ZERO);
  }

  private static Duration length(UrineOutput one) {
    return Duration.between(one.from(), one.at());
  }

  private Fraction ratePerKgHour(UrineOutput one) {
    return Fraction.of(one.volumeMl())
        .times(HOUR.toMillis())
        .over(length(one).toMillis())
        .over(Fraction.of(kg));
  }
}
