package indwell.domain.rule;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalTime;

/**
 * The limits that a facility or a ward may set for itself.
 *
 * @param reviewDueBy local time by which a need review is due on the day after the last one
 * @param securementGoodDays days after the day of application on which a securement is still good
 * @param outputChartingWithin longest time between measured outputs
 * @param careCheckWithin longest time between care checks
 * @param postoperativeWithin longest time in place after an operation without another indication
 * @param balloonToleranceMl largest difference in mL between fill and label that is no mismatch
 * @param urineReading how low urine output is staged
 */
public record RuleSettings(
    LocalTime reviewDueBy,
    int securementGoodDays,
    Duration outputChartingWithin,
    Duration careCheckWithin,
    Duration postoperativeWithin,
    BigDecimal balloonToleranceMl,
    UrineReading urineReading) {

  /**
   * Settings that make sense.
   *
   * @throws IllegalArgumentException if a length, a number of days or a volume is negative
   */
  public RuleSettings {
    notNegative("securementGoodDays", securementGoodDays);
    notNegative("outputChartingWithin", outputChartingWithin.toMillis());
    notNegative("careCheckWithin", careCheckWithin.toMillis());
    notNegative("postoperativeWithin", postoperativeWithin.toMillis());
    notNegative("balloonToleranceMl", balloonToleranceMl.signum());
  }

  private static void notNegative(String name, long value) {
    if (value < 0) {
      throw new IllegalArgumentException(name + " is negative; expected 0 or more");
    }
  }

  /** The defaults of the contract. */
  public static final RuleSettings DEFAULTS =
      new RuleSettings(
          LocalTime.NOON,
          7,
          Duration.ofHours(8),
          Duration.ofHours(12),
          Duration.ofHours(24),
          new BigDecimal("0.5"),
          UrineReading.MEAN);
}
