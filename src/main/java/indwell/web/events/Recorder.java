package indwell.web.events;

import indwell.intake.EventResult;
import indwell.usecase.Received;
import java.util.List;

/**
 * Records events that were read, one after the other, and says of each what became of it; may wait
 * for the store.
 */
@FunctionalInterface
public interface Recorder {
  /** How many events are handed over at once, at most: what fails is done again one by one. */
  int MOST = 64;

  /**
   * Never throws for anything that is an event's own fault.
   *
   * @return as many results, in the same order
   */
  List<EventResult> record(List<Received> events);
}
