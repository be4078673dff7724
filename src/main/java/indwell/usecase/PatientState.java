package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** A patient's current events and all that follows from them. */
public record PatientState(List<BedsideEvent> events, Timeline timeline, ResourcePlan plan) {

  static PatientState of(List<BedsideEvent> events, MappingContext context) {
    Timeline timeline = Timeline.of(events);
    return new PatientState(timeline.events(), timeline, ResourcePlan.of(timeline, context));
  }

  /**
   * The state without the events of those keys, and with their new versions if there are any; this
   * very state when it has to do with none of them.
   */
  PatientState with(Map<EventKey, Optional<BedsideEvent>> newVersions) {
    if (newVersions.values().stream().allMatch(Optional::isEmpty)
        && events.stream().noneMatch(event -> newVersions.containsKey(event.key()))) {
      return this;
    }
    Stream<BedsideEvent> others =
        events.stream().filter(event -> !newVersions.containsKey(event.key()));
    Stream<BedsideEvent> replaced = newVersions.values().stream().flatMap(Optional::stream);
    Timeline next = Timeline.of(Stream.concat(others, replaced).toList());
    return new PatientState(next.events(), next, plan.next(next));
  }
}
