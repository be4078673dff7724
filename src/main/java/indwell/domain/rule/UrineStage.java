package indwell.domain.rule;

import java.math.BigDecimal;

/**
 * A stage of low urine output and what it rests on.
 *
 * @param reading how the table was read
 * @param stage 0 (none) to 3
 * @param windowHours length of the window that decided, in hours
 * @param ratePerKgHour output over that window in mL/kg/h, rounded half up to 4 decimals: its mean,
 *     or its highest charted hour where every hour has to be low
 * @param kg the weight used, in kg
 */
public record UrineStage(
    UrineReading reading, int stage, int windowHours, BigDecimal ratePerKgHour, BigDecimal kg) {

  /** What was found, with reading, values and units. */
  public String sentence() {
    String table = reading == UrineReading.NEONATAL ? "Neonatal KDIGO" : "KDIGO";
    String measure = reading == UrineReading.CONSECUTIVE ? "every charted hour at most" : "mean of";
    return table
        + " urine output stage "
        + stage
        + ": "
        + measure
        + " "
        + ratePerKgHour.stripTrailingZeros().toPlainString()
        + " mL/kg/h over the last "
        + windowHours
        + " h, weight "
        + kg.toPlainString()
        + " kg.";
  }
}
