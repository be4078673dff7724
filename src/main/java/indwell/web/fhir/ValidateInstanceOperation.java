package indwell.web.fhir;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import java.nio.charset.StandardCharsets;
import java.util.Set;

/**
 * Validates a resource that is stored.
 *
 * <p>Source: https://hl7.org/fhir/R4/resource-operation-validate.html
 */
final class ValidateInstanceOperation implements Interaction {
  private final ReadResources resources;
  private final Validation validation;

  ValidateInstanceOperation(ReadResources resources, Validation validation) {
    this.resources = resources;
    this.validation = validation;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "{type}/{id}/$validate", Set.copyOf(ReadResources.TYPES));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput input = OperationInput.of(request, Set.of("mode", "profile"));
    StoredResource stored =
        resources
            .read(new ResourceKey(request.type(), request.id()))
            .orElseThrow(() -> ReadInteraction.unknown(request));
    return validation.answer(
        request,
        stored.json().getBytes(StandardCharsets.UTF_8),
        input.text("mode"),
        input.text("profile"));
  }

  @Override
  public void describe(Capabilities capabilities) {
    ReadResources.TYPES.forEach(
        type -> capabilities.operation(type, "validate", Validation.DEFINITION));
  }
}
