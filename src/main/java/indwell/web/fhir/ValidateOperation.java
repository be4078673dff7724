package indwell.web.fhir;

import indwell.access.Need;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Set;

/**
 * Validates a resource that is sent, by itself or in Parameters.
 *
 * <p>Source: https://hl7.org/fhir/R4/resource-operation-validate.html
 */
final class ValidateOperation implements Interaction {
  private final Validation validation;

  ValidateOperation(Validation validation) {
    this.validation = validation;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("POST"), "{type}/$validate", OwnProfiles.BY_TYPE.keySet());
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.any(request.type()));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    ValidationInput input = ValidationInput.of(request);
    return validation.answer(request, input.ofType(request.type()).bytes(), input);
  }

  @Override
  public void describe(Capabilities capabilities) {
    OwnProfiles.BY_TYPE
        .keySet()
        .forEach(type -> capabilities.operation(type, "validate", Validation.DEFINITION));
  }
}
