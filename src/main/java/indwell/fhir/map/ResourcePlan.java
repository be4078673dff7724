package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.OwnDrafts.Part;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Every clinical resource that the current events of one patient make: a function of the set of
 * events and the zone alone, so that no order of arrival and no clock can change it.
 */
public final class ResourcePlan {
  private final MappingContext context;
  private final Map<ResourceId, Draft> drafts;

  /** Those of several events, such as the Patient. */
  private final List<Draft> shared;

  /** What each event makes by itself. */
  private final Map<EventKey, Part> own;

  /** Takes what it is given over: nobody else has it. */
  private ResourcePlan(
      MappingContext context,
      Map<ResourceId, Draft> drafts,
      List<Draft> shared,
      Map<EventKey, Part> own) {
    this.context = context;
    this.drafts = drafts;
    this.shared = shared;
    this.own = own;
  }

  /** The plan of a patient; without events it is empty. */
  public static ResourcePlan of(Timeline timeline, MappingContext context) {
    return new ResourcePlan(context, Map.of(), List.of(), Map.of()).next(timeline);
  }

  /**
   * The plan of the same patient when other events stand: the same as one made anew, in less time,
   * since what an event makes is taken over unless something that it is made of has changed.
   */
  public ResourcePlan next(Timeline timeline) {
    if (timeline.events().isEmpty()) {
      return of(Map.of(), List.of(), Map.of());
    }
    BusinessId patient = timeline.events().get(0).patient();
    String patientId = ResourceId.patient(patient).id();
    DraftSink sink = new DraftSink(patientId, context);
    new SharedDrafts(timeline, patient, sink).add();
    Map<ResourceId, Draft> all = sink.drafts();
    List<Draft> ofSeveral = List.copyOf(all.values());
    OwnDrafts drafts = new OwnDrafts(timeline, patientId, context);
    Map<EventKey, Part> parts = new HashMap<>();
    for (BedsideEvent event : timeline.events()) {
      Part part = drafts.of(event, Optional.ofNullable(own.get(event.key())));
      part.drafts().forEach(draft -> all.put(draft.id(), draft));
      parts.put(event.key(), part);
    }
    return of(all, ofSeveral, parts);
  }

  private ResourcePlan of(
      Map<ResourceId, Draft> all, List<Draft> several, Map<EventKey, Part> parts) {
    return new ResourcePlan(context, Collections.unmodifiableMap(all), several, parts);
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
    Optional<Part> part = Optional.ofNullable(own.get(event));
    Optional<ResourceId> main = part.map(Part::main);
    return Stream.concat(
            shared.stream().filter(draft -> draft.madeBy().contains(event)),
            part.stream().flatMap(one -> one.drafts().stream()))
        .sorted(
            Comparator.comparing((Draft draft) -> !main.equals(Optional.of(draft.id())))
                .thenComparingInt(draft -> rank(draft.id().type())))
        .toList();
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
