package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Every clinical resource that the current events of one patient make: a function of the set of
 * events and the zone alone, so that no order of arrival and no clock can change it.
 */
public final class ResourcePlan {
  private final Map<ResourceId, Draft> drafts;
  private final Map<EventKey, ResourceId> mainOf;

  /** Takes the maps over: nobody else has them. */
  private ResourcePlan(Map<ResourceId, Draft> drafts, Map<EventKey, ResourceId> mainOf) {
    this.drafts = Collections.unmodifiableMap(drafts);
    this.mainOf = mainOf;
  }

  /** The plan of a patient; without events it is empty. */
  public static ResourcePlan of(Timeline timeline, MappingContext context) {
    if (timeline.events().isEmpty()) {
      return new ResourcePlan(Map.of(), Map.of());
    }
    BusinessId patient = timeline.events().get(0).patient();
    DraftSink sink = new DraftSink(ResourceId.patient(patient).id(), context);
    new SharedDrafts(timeline, patient, sink).add();
    OwnDrafts own = new OwnDrafts(timeline, sink);
    Map<EventKey, ResourceId> mainOf = new HashMap<>();
    for (BedsideEvent event : timeline.events()) {
      own.add(Bare.of(event));
      mainOf.put(event.key(), ResourceId.mainOf(event));
    }
    return new ResourcePlan(sink.drafts(), mainOf);
  }

  /** All of them: what others refer to first, then in timeline order. */
  public List<Draft> drafts() {
    return List.copyOf(drafts.values());
  }

  /** All of them by their id, in that order. */
  Map<ResourceId, Draft> byId() {
    return drafts;
  }

  /** The draft of that resource, if the plan has it. */
  public Optional<Draft> draft(ResourceId id) {
    return Optional.ofNullable(drafts.get(id));
  }

  /** Those that the event has a share in, as an answer lists them: the main one first. */
  public List<Draft> drafts(EventKey event) {
    List<Draft> own = new ArrayList<>();
    for (Draft draft : drafts.values()) {
      if (draft.madeBy().contains(event)) {
        own.add(draft);
      }
    }
    own.sort(
        Comparator.comparing((Draft draft) -> !draft.id().equals(mainOf.get(event)))
            .thenComparingInt(draft -> rank(draft.id().type())));
    return own;
  }

  private static int rank(String type) {
    return switch (type) {
      case "Procedure", "Specimen" -> 0;
      case "DeviceUseStatement" -> 1;
      case "Device" -> 2;
      case "Observation" -> 3;
      case "Encounter" -> 4;
      case "Patient" -> 5;
      default -> 6;
    };
  }
}
