package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.IssueCode;
import indwell.port.StoredResource;
import indwell.web.HttpAnswer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;

/**
 * Validates a resource that is stored, or one that is sent to its address.
 *
 * <p>Source: https://hl7.org/fhir/R4/resource-operation-validate.html
 */
final class ValidateInstanceOperation implements Interaction {
  private final CurrentResources resources;
  private final Validation validation;

  ValidateInstanceOperation(CurrentResources resources, Validation validation) {
    this.resources = resources;
    this.validation = validation;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "POST"), "{type}/{id}/$validate", SearchForm.TYPES);
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.of(request.type(), Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    ValidationInput input = ValidationInput.of(request);
    byte[] resource =
        input.resource().isPresent()
            ? sent(input.ofType(request.type()), request.id())
            : stored(request);
    return validation.answer(request, resource, input);
  }

  private byte[] stored(FhirRequest request) {
    StoredResource stored =
        resources.read(request).orElseThrow(() -> ReadInteraction.unknown(request));
    return stored.json().getBytes(StandardCharsets.UTF_8);
  }

  private static byte[] sent(FhirBody resource, String id) {
    if (resource.id().filter(id::equals).isEmpty()) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "id",
          "The resource has "
              + resource.id().map(given -> "the id " + Shown.text(given)).orElse("no id")
              + "; expected "
              + id
              + " as in the address.");
    }
    return resource.bytes();
  }

  @Override
  public void describe(Capabilities capabilities) {
    SearchForm.TYPES.forEach(
        type -> capabilities.operation(type, "validate", Validation.DEFINITION));
  }
}
