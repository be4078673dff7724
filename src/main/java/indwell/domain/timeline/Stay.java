package indwell.domain.timeline;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One encounter of the patient, from its first admission or transfer to its own discharge or the
 * admission of another encounter.
 *
 * @param span start inclusive, end exclusive
 * @param wards time in wards, ascending, without overlap
 * @param endedBy the discharge or the other encounter's admission; empty while it lasts
 */
public record Stay(
    BusinessId encounter, Span span, List<WardStay> wards, Optional<Movement> endedBy) {
  public Stay {
    wards = List.copyOf(wards);
  }

  /** When it began. */
  public Instant start() {
    return span.start();
  }

  /** When it ended, exclusive; empty while it lasts. */
  public Optional<Instant> end() {
    return span.end();
  }

  /** The first time in an inpatient ward; empty while there was none. */
  public Optional<WardStay> firstInpatient() {
    return wards.stream().filter(WardStay::inpatient).findFirst();
  }
}
