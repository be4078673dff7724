package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** A patient's current events and all that follows from them. */
record PatientState(List<BedsideEvent> events, Timeline timeline, ResourcePlan plan) {

  static PatientState of(List<BedsideEvent> events, MappingContext context) {
    Timeline timeline = Timeline.of(events);
    return new PatientState(timeline.events(), timeline, ResourcePlan.of(timeline, context));
  }

  /** The state without the event of that key, and with its new version if there is one. */
  PatientState with(EventKey key, Optional<BedsideEvent> newVersion, MappingContext context) {
    Stream<BedsideEvent> others = events.stream().filter(event -> !event.key().equals(key));
    return of(Stream.concat(others, newVersion.stream()).toList(), context);
  }
}
