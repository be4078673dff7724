package indwell.intake;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import java.util.Optional;

/**
 * Makes the event of details that were read; called only when nothing of the whole event was at
 * fault, so that every required value is there.
 */
@FunctionalInterface
interface EventMaker {
  BedsideEvent make(Envelope envelope, Optional<BusinessId> encounter);
}
