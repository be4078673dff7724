package indwell.usecase;

import indwell.domain.surveillance.ElectronicCheck;
import indwell.domain.surveillance.MonthFacts;
import indwell.domain.surveillance.PredictedCauti.Prediction;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.ValidationRun;
import indwell.domain.surveillance.WardMonth;
import indwell.domain.surveillance.WeeklyEstimate;
import indwell.domain.timeline.DayCount;
import java.util.Optional;

/**
 * What surveillance says of one ward and month.
 *
 * @param counted patient days and catheter days by Indwell's own count
 * @param facts what people supplied
 * @param factsVersion which version of it; 0 for none
 * @param estimate out of the weekly sample, if there is one
 * @param predicted out of the configured table; empty when there is none for this ward
 */
public record UnitMonth(
    WardMonth month,
    DayCount counted,
    MonthFacts facts,
    int factsVersion,
    Ratio infections,
    Ratio utilisation,
    Optional<WeeklyEstimate> estimate,
    Check patientDays,
    Check catheterDays,
    Optional<Prediction> predicted) {

  /**
   * A standardised ratio.
   *
   * @param tally what went into it, as far as both are known
   */
  public record Ratio(Optional<Tally> tally, StandardisedRatio result) {}

  /**
   * The electronic count against the manual one.
   *
   * @param check empty when no manual count is known
   * @param run passing months in a row, this one included
   */
  public record Check(Optional<ElectronicCheck> check, ValidationRun run) {}
}
