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
            + " is not known; expected "
            + expected(request.type())
            + ".");
  }

  /** What there is of a type, and where it comes from; not all of it is made by an event. */
  private static String expected(String type) {
    return switch (type) {
      case "AuditEvent" -> "one that a search of AuditEvent gives";
      case "Flag" -> "one that was raised by now, as a search of Flag gives it";
      case "Group" -> "that of a ward, whose code is its id";
      case "Location" -> "the code of a ward that an event or a description has named";
      default -> "one that an event made";
    };
  }

  @Override
  public void describe(Capabilities capabilities) {
    SearchForm.TYPES.forEach(type -> capabilities.interaction(type, TypeRestfulInteraction.READ));
  }
}
