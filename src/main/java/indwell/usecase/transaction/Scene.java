package indwell.usecase.transaction;

import ca.uhn.fhir.util.FhirTerser;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.Bare;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.PatientResources;
import indwell.fhir.map.ResourceId;
import indwell.fhir.timeline.TimelineFromFhir;
import indwell.intake.EventReader;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import indwell.usecase.transaction.Preparation.Prepared;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/**
 * What is there when the entries are taken: the stored resources that they touch or refer to, with
 * those that were sent in their places.
 */
final class Scene {
  private static final FhirTerser TERSER = FhirJson.context().newTerser();

  private final Map<ResourceKey, StoredResource> stored;
  private final Map<ResourceKey, Resource> live = new HashMap<>();
  private final Map<EventKey, StoredEvent> highest;
  private final PatientResources all;

  private Scene(
      Map<ResourceKey, StoredResource> stored,
      Map<EventKey, StoredEvent> highest,
      Prepared prepared) {
    this.stored = stored;
    this.highest = highest;
    stored.forEach(
        (key, one) -> {
          Resource resource = FhirJson.parse(one.json());
          if (!EnteredInError.isMarked(resource)) {
            live.put(key, resource);
          }
        });
    Map<ResourceKey, Resource> seen = new HashMap<>(live);
    prepared.deletions().forEach(one -> one.id().map(Known::key).ifPresent(seen::remove));
    for (Taken taken : prepared.taken()) {
      if (taken.sent().takenBack()) {
        seen.remove(Known.key(taken.id()));
      } else if (counts(taken)) {
        seen.put(Known.key(taken.id()), taken.resource());
      }
    }
    this.all = new PatientResources(seen.values());
  }

  static Scene of(Reading store, Prepared prepared, Map<EventKey, StoredEvent> highest) {
    Set<ResourceKey> keys = new HashSet<>();
    for (Taken taken : prepared.taken()) {
      keys.add(Known.key(taken.id()));
      TERSER
          .getAllPopulatedChildElementsOfType(taken.resource(), Reference.class)
          .forEach(reference -> add(keys, reference.getReference()));
    }
    prepared.deletions().forEach(one -> one.id().map(Known::key).ifPresent(keys::add));
    highest.values().forEach(event -> event.resources().forEach(one -> add(keys, one)));
    return new Scene(store.resources(keys), highest, prepared);
  }

  private static void add(Set<ResourceKey> keys, String reference) {
    String[] parts = reference == null ? new String[0] : reference.split("/", -1);
    if (parts.length == 2) {
      keys.add(new ResourceKey(parts[0], parts[1]));
    }
  }

  /**
   * Whether what was sent is to be taken: not if it was to be created only when it is not there.
   */
  boolean counts(Taken taken) {
    return taken.entry().ifNoneExist().isEmpty() || !isLive(taken.id());
  }

  /** The version that is stored, taken back or not. */
  Optional<StoredResource> stored(ResourceId id) {
    return Optional.ofNullable(stored.get(Known.key(id)));
  }

  /** The stored resource, unless it was taken back. */
  Optional<Resource> live(ResourceId id) {
    return Optional.ofNullable(live.get(Known.key(id)));
  }

  boolean isLive(ResourceId id) {
    return live.containsKey(Known.key(id));
  }

  /** The highest version of an event. */
  Optional<StoredEvent> highest(EventKey key) {
    return Optional.ofNullable(highest.get(key));
  }

  /** What the event says now, bare; empty when it is not known or was withdrawn. */
  Optional<BedsideEvent> current(EventKey key) {
    return highest(key)
        .filter(event -> !event.withdrawn())
        .map(event -> EventReader.fromCanonical(event.canonical()))
        .filter(EventVersion.Stated.class::isInstance)
        .map(event -> Bare.of(((EventVersion.Stated) event).event()));
  }

  /** The events that a resource tells, bare. */
  List<BedsideEvent> read(Entry entry, Resource resource) {
    List<BedsideEvent> events = new ArrayList<>();
    try {
      TimelineFromFhir.read(resource, all).forEach(event -> events.add(Bare.of(event)));
    } catch (RuntimeException unreadable) {
      throw entry.refused(
          422,
          IssueCode.RESOURCE_INVALID,
          "resource",
          "The "
              + resource.fhirType()
              + " cannot be read as an event; expected all elements and references of its"
              + " profile.");
    }
    return events;
  }
}
