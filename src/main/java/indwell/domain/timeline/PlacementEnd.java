package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import java.time.Instant;
import java.util.Optional;

/**
 * How the time of a catheter ended.
 *
 * @param how what ended it
 * @param by the event that ended it
 * @param ward the ward in which a discharge found the patient; empty otherwise
 * @param recordedLater the removal or exchange that was recorded after a discharge had ended the
 *     catheter's time; empty as long as there is none
 */
public record PlacementEnd(
    How how, BedsideEvent by, Optional<Ward> ward, Optional<BedsideEvent> recordedLater) {

  /** What ended the time of a catheter. */
  public enum How {
    REMOVED,
    EXCHANGED,
    /**
     * The patient was discharged, not on purpose with the catheter, and no removal is on record.
     */
    DISCHARGED,
    /** It was put in anew while it rested after a discharge. */
    PUT_IN_ANEW
  }

  /** When it ended; the catheter is no longer in place at this instant. */
  public Instant at() {
    return by.at();
  }
}
