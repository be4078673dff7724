package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import indwell.web.fhir.ParametersBody.Part;
import io.vertx.core.buffer.Buffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
  public HttpAnswer answer(FhirRequest request) {
    return validate(request, validation);
  }

  /** Validates the resource that the request carries. */
  static HttpAnswer validate(FhirRequest request, Validation validation) {
    FhirBody body = FhirBody.read(request.body().getBytes());
    List<Part> parts =
        body.type().equals("Parameters") ? ParametersBody.parts(body.bytes()) : List.of();
    FhirBody resource = parts.isEmpty() ? body : FhirBody.read(resourceOf(parts));
    if (!resource.type().equals(request.type())) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "",
          "The resource is of type "
              + Shown.text(resource.type())
              + "; expected "
              + request.type()
              + " as in the address.");
    }
    return validation.answer(
        request, resource.bytes(), value(request, parts, "mode"), value(request, parts, "profile"));
  }

  private static byte[] resourceOf(List<Part> parts) {
    List<byte[]> resources =
        parts.stream()
            .filter(part -> part.name().equals("resource"))
            .flatMap(part -> part.resource().stream())
            .toList();
    if (resources.size() != 1) {
      throw FhirRefusal.of(
          400,
          IssueCode.MISSING_PARAMETER,
          "resource",
          "Parameter resource stands " + resources.size() + " times; expected it once.");
    }
    return resources.get(0);
  }

  private static Optional<String> value(FhirRequest request, List<Part> parts, String name) {
    OperationInput query = OperationInput.of(onlyQuery(request), Set.of("mode", "profile"));
    List<String> values = new ArrayList<>(query.text(name).stream().toList());
    parts.stream()
        .filter(part -> part.name().equals(name))
        .flatMap(part -> part.value().stream())
        .forEach(values::add);
    if (values.size() > 1) {
      throw FhirRefusal.badParameter(
          name, "Parameter " + name + " stands " + values.size() + " times; expected it once.");
    }
    return values.stream().findFirst();
  }

  private static FhirRequest onlyQuery(FhirRequest request) {
    return request.withBody(Buffer.buffer());
  }

  @Override
  public void describe(Capabilities capabilities) {
    OwnProfiles.BY_TYPE
        .keySet()
        .forEach(type -> capabilities.operation(type, "validate", Validation.DEFINITION));
  }
}
