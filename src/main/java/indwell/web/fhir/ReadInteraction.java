package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * The newest version of a resource.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#read
 */
final class ReadInteraction implements Interaction {
  private final CurrentResources resources;

  ReadInteraction(CurrentResources resources) {
    this.resources = resources;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "{type}/{id}", SearchForm.TYPES);
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.of(request.type(), Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    Shape shape = Shape.of(request);
    return resources
        .read(request)
        .map(stored -> Versioned.answer(request, stored, shape))
        .orElseThrow(() -> unknown(request));
  }

  static FhirRefusal unknown(FhirRequest request) {
    return FhirRefusal.notFound(
        "Resource "
            + request.type()
            + "/"
            + request.id()
            + " is not known; expected one that an event made.");
  }

  @Override
  public void describe(Capabilities capabilities) {
    SearchForm.TYPES.forEach(type -> capabilities.interaction(type, TypeRestfulInteraction.READ));
  }
}
