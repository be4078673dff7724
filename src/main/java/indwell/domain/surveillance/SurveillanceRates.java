package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;

/**
 * The arithmetic of rates and ratios. A ratio over nothing is undefined, never 0.
 *
 * <p>Rules DUR-1 and RATE-1.
 */
public final class SurveillanceRates {
  private SurveillanceRates() {}

  /**
   * Events per 1,000 catheter days; empty without catheter days.
   *
   * <p>Source: NHSN chapter 7, Table 3 (rules C28, C33).
   *
   * @param decimals digits behind the point, rounded half up
   */
  public static Optional<BigDecimal> perThousand(long events, long catheterDays, int decimals) {
    return ratio(Math.multiplyExact(events, 1000L), catheterDays, decimals);
  }

  /**
   * Device utilisation ratio: catheter days by patient days; empty without patient days.
   *
   * <p>Source: NHSN chapter 7, Table 3 (rule C29).
   */
  public static Optional<BigDecimal> deviceUtilisation(
      long catheterDays, long patientDays, int decimals) {
    return ratio(catheterDays, patientDays, decimals);
  }

  /**
   * Catheter days of a month estimated from a weekly sample; empty without sampled patient days.
   *
   * <p>Source: NHSN chapter 7, Table 2 (rule C24).
   */
  public static Optional<BigDecimal> estimatedCatheterDays(
      long sampledCatheterDays, long sampledPatientDays, long patientDays, int decimals) {
    return ratio(
        Math.multiplyExact(sampledCatheterDays, patientDays), sampledPatientDays, decimals);
  }

  private static Optional<BigDecimal> ratio(long numerator, long denominator, int decimals) {
    return denominator == 0
        ? Optional.empty()
        : Optional.of(
            BigDecimal.valueOf(numerator)
                .divide(BigDecimal.valueOf(denominator), decimals, RoundingMode.HALF_UP));
  }
}
