package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.util.Optional;

/**
 * What people and other systems know of one ward and month that no bedside event tells; each of it
 * may be unknown, which is not the same as 0.
 *
 * @param manualPatientDays counted by hand once a day, summed over the month
 * @param manualCatheterDays those of them with a catheter that counts
 * @param confirmed CAUTI confirmed for the month
 * @param predictedCauti from a model of somebody else's
 * @param predictedDeviceDays likewise
 * @param baseline what both predictions rest on; there when one of them is
 */
public record MonthFacts(
    Optional<Integer> manualPatientDays,
    Optional<Integer> manualCatheterDays,
    Optional<WeeklySample> weeklySample,
    Optional<ConfirmedEvents> confirmed,
    Optional<BigDecimal> predictedCauti,
    Optional<BigDecimal> predictedDeviceDays,
    Optional<String> baseline) {

  /** Nothing is known. */
  public static final MonthFacts UNKNOWN =
      new MonthFacts(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty());
}
