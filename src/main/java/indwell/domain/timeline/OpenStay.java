package indwell.domain.timeline;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A stay while the timeline is read. */
final class OpenStay {
  private final BusinessId encounter;
  private final Instant start;
  private final List<WardStay> wards = new ArrayList<>();
  private Optional<Movement> endedBy = Optional.empty();

  OpenStay(BusinessId encounter, Instant start) {
    this.encounter = encounter;
    this.start = start;
  }

  BusinessId encounter() {
    return encounter;
  }

  Optional<Movement> endedBy() {
    return endedBy;
  }

  boolean ended() {
    return endedBy.isPresent();
  }

  void end(Movement by) {
    endedBy = Optional.of(by);
  }

  /** Time in a ward that is over. */
  void add(WardStay ward) {
    wards.add(ward);
  }

  /** The stay as read so far. */
  Stay asStay(Optional<WardStay> lasting) {
    List<WardStay> all = new ArrayList<>(wards);
    lasting.ifPresent(all::add);
    return new Stay(encounter, new Span(start, endedBy.map(Movement::at)), all, endedBy);
  }
}
