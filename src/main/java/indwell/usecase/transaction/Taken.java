package indwell.usecase.transaction;

import indwell.fhir.bundle.TakenProfile.Role;
import indwell.fhir.map.ResourceId;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Resource;

/**
 * A resource in the form in which it would be stored: its id and references those of ours, one
 * identifier, one profile.
 *
 * @param left elements that were left out on the way
 */
record Taken(Sent sent, Identity identity, Resource resource, List<String> left) {
  Entry entry() {
    return sent.entry();
  }

  ResourceId id() {
    return identity.id();
  }

  Role role() {
    return sent.profile().role();
  }

  /** The patient that it belongs to; empty for a ward. */
  Optional<String> patientId() {
    return id().type().equals("Patient") ? Optional.of(id().id()) : OwnForm.patientOf(resource);
  }
}
