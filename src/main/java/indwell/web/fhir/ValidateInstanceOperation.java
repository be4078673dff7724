package indwell.web.fhir;

import indwell.port.StoredResource;
import indwell.web.HttpAnswer;
import java.nio.charset.StandardCharsets;
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
  public HttpAnswer answer(FhirRequest request) {
    if (request.method().equals("POST") && request.body().length() > 0) {
      return ValidateOperation.validate(request, validation);
    }
    OperationInput input = OperationInput.of(request, Set.of("mode", "profile"));
    StoredResource stored =
        resources.read(request).orElseThrow(() -> ReadInteraction.unknown(request));
    return validation.answer(
        request,
        stored.json().getBytes(StandardCharsets.UTF_8),
        input.text("mode"),
        input.text("profile"));
  }

  @Override
  public void describe(Capabilities capabilities) {
    SearchForm.TYPES.forEach(
        type -> capabilities.operation(type, "validate", Validation.DEFINITION));
  }
}
