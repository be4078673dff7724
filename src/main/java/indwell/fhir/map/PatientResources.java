package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Envelope;
import indwell.fhir.term.EventIdentifier;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.hl7.fhir.r4.model.BaseDateTimeType;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Type;

/**
 * The resources of one patient, found by reference, to read events back from. A reference that
 * leads to none of them is an {@link IllegalArgumentException} that names it.
 */
public final class PatientResources {
  private final Map<String, Resource> byReference = new HashMap<>();
  private final Map<String, List<Observation>> observationsByProcedure = new HashMap<>();

  /** Over the current versions, those that were entered in error left out. */
  public PatientResources(Collection<? extends Resource> resources) {
    for (Resource resource : resources) {
      byReference.put(ResourceId.of(resource).text(), resource);
      if (resource instanceof Observation observation) {
        observation.getPartOf().forEach(whole -> part(whole, observation));
      }
    }
  }

  private void part(Reference whole, Observation observation) {
    observationsByProcedure
        .computeIfAbsent(whole.getReference(), reference -> new ArrayList<>())
        .add(observation);
  }

  /** Whether the resource claims that profile. */
  public static boolean claims(Resource resource, String profile) {
    return resource.getMeta().hasProfile(profile);
  }

  static Instant instant(BaseDateTimeType time) {
    return time.getValue().toInstant();
  }

  static Instant instant(Type time) {
    return instant((BaseDateTimeType) time);
  }

  /** The envelope of the event that made a resource; version 1, without recorder. */
  Envelope envelope(Identifier event, Instant at, Reference subject) {
    return new Envelope(EventIdentifier.read(event), 1, at, patient(subject), Optional.empty());
  }

  BusinessId patient(Reference subject) {
    return businessId(follow(subject, Patient.class).getIdentifierFirstRep());
  }

  /** The encounter that an event named; empty without a reference. */
  Optional<BusinessId> encounter(Reference encounter) {
    if (encounter.isEmpty()) {
      return Optional.empty();
    }
    Identifier identifier = follow(encounter, Encounter.class).getIdentifierFirstRep();
    return Optional.of(businessId(identifier));
  }

  CatheterId catheter(Reference device) {
    return new CatheterId(follow(device, Device.class).getIdentifierFirstRep().getValue());
  }

  /** The observations of that profile that are part of the procedure. */
  List<Observation> partsOf(Procedure procedure, String profile) {
    return observationsByProcedure.getOrDefault(ResourceId.of(procedure).text(), List.of()).stream()
        .filter(part -> claims(part, profile))
        .toList();
  }

  static BusinessId businessId(Identifier identifier) {
    return new BusinessId(identifier.getSystem(), identifier.getValue());
  }

  private <R extends Resource> R follow(Reference reference, Class<R> type) {
    Resource found = byReference.get(reference.getReference());
    if (!type.isInstance(found)) {
      throw new IllegalArgumentException(
          "Reference "
              + reference.getReference()
              + " leads to no "
              + type.getSimpleName()
              + " of the patient.");
    }
    return type.cast(found);
  }
}
