package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * One version of a resource.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#vread
 */
final class VersionReadInteraction implements Interaction {
  private final ReadResources resources;

  VersionReadInteraction(ReadResources resources) {
    this.resources = resources;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "{type}/{id}/_history/{vid}", Set.copyOf(ReadResources.TYPES));
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.of(request.type(), Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    Shape shape = Shape.of(request);
    ResourceKey key = new ResourceKey(request.type(), request.id());
    Optional<StoredResource> stored =
        number(request.path().get(3)).flatMap(version -> resources.version(key, version));
    return stored
        .map(one -> Versioned.answer(request, one, shape))
        .orElseThrow(
            () ->
                FhirRefusal.notFound(
                    "Version "
                        + request.path().get(3)
                        + " of "
                        + key.reference()
                        + " is not known; expected one of its history."));
  }

  private static Optional<Integer> number(String text) {
    return text.matches("[1-9][0-9]{0,8}") ? Optional.of(Integer.parseInt(text)) : Optional.empty();
  }

  @Override
  public void describe(Capabilities capabilities) {
    ReadResources.TYPES.forEach(
        type -> capabilities.interaction(type, TypeRestfulInteraction.VREAD));
  }
}
