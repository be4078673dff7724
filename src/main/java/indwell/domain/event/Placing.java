package indwell.domain.event;

import java.time.Instant;
import java.util.Map;
import java.util.Optional;

/**
 * A catheter as it was put in: the details of an insertion, or of the replacement in an exchange.
 *
 * @param surgeryEndedAt end of the operation that the catheter was put in for
 * @param steps the steps that were charted; a step left out was not charted, which is not the same
 *     as not done
 */
public record Placing(
    CatheterId catheter,
    Route route,
    Drainage drainage,
    Product product,
    StatedIndication indication,
    Optional<Instant> surgeryEndedAt,
    InsertionFindings findings,
    Map<InsertionStep, StepResult> steps) {
  public Placing {
    steps = Map.copyOf(steps);
  }

  /**
   * Whether it is an indwelling urethral catheter connected to a drainage bag, the only kind that
   * makes catheter days. Source: NHSN chapter 7, Definitions (rules C1, C3, C6).
   */
  public boolean countsForSurveillance() {
    return route == Route.URETHRAL && drainage == Drainage.BAG;
  }
}
