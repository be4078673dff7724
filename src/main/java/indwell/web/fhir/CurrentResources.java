package indwell.web.fhir;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.FlagResource;
import indwell.usecase.PatientFlags;
import indwell.usecase.ReadResources;
import java.util.Optional;

/** What can be read by type and id: the newest versions, and the flags of now. */
record CurrentResources(ReadResources stored, PatientFlags flags) {

  /** The resource that the path of the request names. */
  Optional<StoredResource> read(FhirRequest request) {
    return request.type().equals("Flag")
        ? flags.read(request.id(), request.now()).map(FlagResource::asStored)
        : stored.read(new ResourceKey(request.type(), request.id()));
  }
}
