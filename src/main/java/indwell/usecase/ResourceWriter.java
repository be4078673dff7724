package indwell.usecase;

import indwell.fhir.map.Draft;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.Identifiers;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ResourceId;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Date;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;

/** Writes resources as their next versions, each validated against its profile before any is. */
final class ResourceWriter {
  /** What is identified by its business identifier alone: written once, and never taken back. */
  private static final Set<String> LASTING = Set.of("Patient", "Location");

  private final Writing store;
  private final ProfileValidator validator;
  private final Instant now;
  private final List<StoredResource> ready = new ArrayList<>();
  private final Map<ResourceKey, List<SearchValue>> findBy = new HashMap<>();

  ResourceWriter(Writing store, ProfileValidator validator, Instant now) {
    this.store = store;
    this.validator = validator;
    this.now = now;
  }

  /** Prepares what the difference asks for; nothing is written yet. */
  void prepare(PlanDiff diff) {
    Map<ResourceKey, StoredResource> known = known(diff);
    for (Draft draft : diff.written()) {
      ResourceKey key = key(draft.id());
      StoredResource before = known.get(key);
      if (before == null || !lasts(key.type())) {
        prepare(draft.build(), draft.patientId(), before == null ? 0 : before.version());
      }
    }
    for (Draft draft : diff.gone()) {
      StoredResource before = known.get(key(draft.id()));
      if (before != null && !lasts(before.key().type())) {
        EnteredInError.mark(FhirJson.parse(before.json()))
            .ifPresent(last -> prepare(last, before.patientId(), before.version()));
      }
    }
  }

  /** Whether resources of that type stay when no event makes them any more. */
  static boolean lasts(String type) {
    return LASTING.contains(type);
  }

  private Map<ResourceKey, StoredResource> known(PlanDiff diff) {
    Set<ResourceKey> keys = new HashSet<>();
    Stream.concat(diff.written().stream(), diff.gone().stream())
        .forEach(draft -> keys.add(key(draft.id())));
    return store.resources(keys);
  }

  /** Prepares one resource as the version after the given one. */
  void prepare(Resource resource, String patientId, int versionBefore) {
    ResourceKey key = key(ResourceId.of(resource));
    int version = versionBefore + 1;
    resource.getMeta().setVersionId(Integer.toString(version)).setLastUpdated(Date.from(now));
    findBy.put(key, SearchValues.of(resource));
    ready.add(
        new StoredResource(
            key,
            version,
            now,
            patientId,
            Identifiers.tokensOf(resource),
            FhirJson.encode(resource)));
  }

  /**
   * Writes all that was prepared.
   *
   * @throws ProfileViolation when one of them does not meet its profile; then none is written
   */
  void write() {
    ready.forEach(this::validate);
    ready.forEach(store::put);
    findBy.forEach(store::findBy);
  }

  private void validate(StoredResource resource) {
    for (Finding finding : validator.validate(resource.json().getBytes(StandardCharsets.UTF_8))) {
      if (finding.isError()) {
        throw new ProfileViolation(resource.key(), finding);
      }
    }
  }

  private static ResourceKey key(ResourceId id) {
    return new ResourceKey(id.type(), id.id());
  }
}
