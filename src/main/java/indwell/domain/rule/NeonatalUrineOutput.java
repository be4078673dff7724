package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Neonatal KDIGO stages by the mean over 24 hours that are covered without a gap: 0 above 1, 1
 * above 0.5, 2 above 0.3, else 3 (mL/kg/h).
 *
 * <p>Source: BMC Nephrol 2020, doi:10.1186/s12882-020-01945-z, Table 1 (restated).
 */
public final class NeonatalUrineOutput {
  private static final int WINDOW_HOURS = 24;
  private static final Fraction ONE = Fraction.of(BigDecimal.ONE);
  private static final Fraction HALF = Fraction.of(new BigDecimal("0.5"));
  private static final Fraction THREE_TENTHS = Fraction.of(new BigDecimal("0.3"));

  private final CoveredWindow windows;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order; those that end after {@code end} are left out
   * @param end end of the window
   * @param kg body weight in kg, positive
   */
  public NeonatalUrineOutput(List<UrineOutput> intervals, Instant end, BigDecimal kg) {
    this.windows = new CoveredWindow(intervals, end, kg);
    this.kg = kg;
  }

  /** The stage; empty unless the last 24 hours are covered. */
  public Optional<UrineStage> stage() {
    return windows
        .ratePerKgHour(WINDOW_HOURS)
        .map(
            rate ->
                new UrineStage(
                    UrineReading.NEONATAL, stage(rate), WINDOW_HOURS, rate.rounded(4), kg));
  }

  private static int stage(Fraction rate) {
    if (rate.compareTo(ONE) > 0) {
      return 0;
    }
    if (rate.compareTo(HALF) > 0) {
      return 1;
    }
    return rate.compareTo(THREE_TENTHS) > 0 ? 2 : 3;
  }
}
