package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import java.time.ZoneId;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.hl7.fhir.r4.model.Resource;

/** Takes the drafts of one patient in, in the order of the plan. */
final class DraftSink {
  private final String patientId;
  private final MappingContext context;
  private final Map<ResourceId, Draft> drafts = new LinkedHashMap<>();

  DraftSink(String patientId, MappingContext context) {
    this.patientId = patientId;
    this.context = context;
  }

  /** All that a builder reads: the content, and the zone that times are written in. */
  private record Fingerprint(Object content, ZoneId zone) {}

  /** Makes a resource of its content. */
  interface Mapping<C> {
    Resource toFhir(C content, MappingContext context);
  }

  /** A resource of the patient whose content holds times. */
  <C> void add(ResourceId id, Set<EventKey> madeBy, C content, Mapping<C> mapping) {
    put(id, patientId, madeBy, content, mapping);
  }

  /** A resource of the patient. */
  <C> void add(
      ResourceId id, Set<EventKey> madeBy, C content, Function<C, ? extends Resource> mapping) {
    put(id, patientId, madeBy, content, (timeless, zone) -> mapping.apply(timeless));
  }

  /** A resource of no patient. */
  <C> void addShared(
      ResourceId id, Set<EventKey> madeBy, C content, Function<C, ? extends Resource> mapping) {
    put(id, "", madeBy, content, (timeless, zone) -> mapping.apply(timeless));
  }

  /** The main resource of an event, which the event alone makes. */
  <C> void addMain(BedsideEvent event, C content, Mapping<C> mapping) {
    add(ResourceId.mainOf(event), Set.of(event.key()), content, mapping);
  }

  /** An Observation, which one event alone makes. */
  <C> void addObservation(Measured measured, C content, Mapping<C> mapping) {
    add(measured.id(), Set.of(measured.key()), content, mapping);
  }

  private <C> void put(
      ResourceId id, String owner, Set<EventKey> madeBy, C content, Mapping<C> mapping) {
    Fingerprint fingerprint = new Fingerprint(content, context.zone());
    drafts.put(
        id,
        new Draft(
            id, owner, Set.copyOf(madeBy), fingerprint, () -> mapping.toFhir(content, context)));
  }

  /** All that were added, in that order. */
  Map<ResourceId, Draft> drafts() {
    return drafts;
  }
}
