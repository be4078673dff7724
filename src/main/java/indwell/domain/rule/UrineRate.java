package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;

/**
 * Urine of one measured interval by body weight and time, in mL/kg/h. One interval makes no stage:
 * {@link LowOutputRule} looks at windows.
 */
public final class UrineRate {
  private static final BigDecimal MILLIS_PER_HOUR =
      BigDecimal.valueOf(Duration.ofHours(1).toMillis());

  private UrineRate() {}

  /**
   * The rate, rounded half up.
   *
   * @param kg body weight in kg, positive
   */
  public static BigDecimal of(UrineOutput output, BigDecimal kg, int decimals) {
    long millis = Duration.between(output.from(), output.at()).toMillis();
    BigDecimal kilogramHours = kg.multiply(BigDecimal.valueOf(millis));
    return output
        .volumeMl()
        .multiply(MILLIS_PER_HOUR)
        .divide(kilogramHours, decimals, RoundingMode.HALF_UP);
  }
}
