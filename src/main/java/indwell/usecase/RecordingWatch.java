package indwell.usecase;

import indwell.intake.EventResult;
import java.time.Duration;
import java.util.List;

/** Is told what became of events, by whoever recorded them; must neither wait nor throw. */
@FunctionalInterface
public interface RecordingWatch {
  /** Nobody watches. */
  RecordingWatch NOBODY = (events, results, took) -> {};

  /**
   * Events that were recorded together are answered.
   *
   * @param results in the order of the events
   * @param took from the first event to the answer, the store's part included
   */
  void recorded(List<Received> events, List<EventResult> results, Duration took);
}
