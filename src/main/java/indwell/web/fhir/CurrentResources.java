package indwell.web.fhir;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.FlagResource;
import indwell.usecase.PatientFlags;
import indwell.usecase.ReadResources;
import java.util.Optional;

/** What can be read by type and id: the newest versions, and the flags and groups of now. */
record CurrentResources(ReadResources stored, PatientFlags flags) {

  /** The resource that the path of the request names. */
  Optional<StoredResource> read(FhirRequest request) {
    return switch (request.type()) {
      case "Flag" -> flags.read(request.id(), request.now()).map(FlagResource::asStored);
      case "AuditEvent" -> stored.audited(request.id());
      case "Group" -> stored.group(request.id(), request.now());
      default -> stored.read(new ResourceKey(request.type(), request.id()));
    };
  }
}
