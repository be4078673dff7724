package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * KDIGO's urine-output stages read by the mean over a window that is covered without a gap.
 *
 * <p>Source: KDIGO 2012 AKI guideline, Table 2. The comparison is strict: 0.5 is not below 0.5.
 */
public final class MeanUrineOutput {
  private static final Fraction HALF = Fraction.of(new BigDecimal("0.5"));
  private static final Fraction THREE_TENTHS = Fraction.of(new BigDecimal("0.3"));

  private final CoveredWindow windows;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order; those that end after {@code end} are left out
   * @param end end of all windows
   * @param kg body weight in kg, positive
   */
  public MeanUrineOutput(List<UrineOutput> intervals, Instant end, BigDecimal kg) {
    this.windows = new CoveredWindow(intervals, end, kg);
    this.kg = kg;
  }

  /** The stage; empty when not even the last 6 hours are covered. */
  public Optional<UrineStage> stage() {
    Optional<Fraction> six = windows.ratePerKgHour(6);
    Optional<Fraction> twelve = windows.ratePerKgHour(12);
    Optional<Fraction> day = windows.ratePerKgHour(24);
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
    return new UrineStage(UrineReading.MEAN, stage, windowHours, rate.rounded(4), kg);
  }
}
