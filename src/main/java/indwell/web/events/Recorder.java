package indwell.web.events;

import indwell.intake.EventResult;
import indwell.intake.Reading;
import java.time.Instant;

/** Records one event that was read, and says what became of it; may wait for the store. */
@FunctionalInterface
public interface Recorder {
  /**
   * Never throws for anything that is the event's own fault.
   *
   * @param now the time of receipt
   */
  EventResult record(Reading reading, Instant now);
}
