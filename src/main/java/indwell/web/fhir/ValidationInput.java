package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.fhir.ParametersBody.Part;
import io.vertx.core.buffer.Buffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What a call of {@code $validate} asks, out of the query and the body, which is the resource
 * itself, or Parameters with or without one.
 *
 * @param resource the one that was sent, if any
 */
record ValidationInput(
    Optional<FhirBody> resource, Optional<String> mode, Optional<String> profile) {
  private static final Set<String> SIMPLE = Set.of("mode", "profile");
  private static final Set<String> ALL = Set.of("mode", "profile", "resource");

  /**
   * Reads it.
   *
   * @throws FhirRefusal 400 for a body that is no resource, a parameter that is not known, and one
   *     that stands twice
   */
  static ValidationInput of(FhirRequest request) {
    OperationInput query = OperationInput.of(request.withBody(Buffer.buffer()), SIMPLE);
    Optional<FhirBody> body =
        request.body().length() == 0
            ? Optional.empty()
            : Optional.of(FhirBody.read(request.body().getBytes()));
    List<Part> parts =
        body.filter(ValidationInput::isParameters)
            .map(parameters -> known(ParametersBody.parts(parameters.bytes()), request.lenient()))
            .orElse(List.of());
    return new ValidationInput(
        body.filter(ValidationInput::isParameters).isPresent() ? resource(parts) : body,
        value("mode", query, parts),
        value("profile", query, parts));
  }

  private static boolean isParameters(FhirBody body) {
    return body.type().equals("Parameters");
  }

  private static List<Part> known(List<Part> parts, boolean lenient) {
    if (!lenient) {
      parts.stream()
          .map(Part::name)
          .filter(name -> !ALL.contains(name))
          .findFirst()
          .ifPresent(
              name -> {
                throw OperationInput.unknown(name, ALL);
              });
    }
    return parts;
  }

  private static Optional<FhirBody> resource(List<Part> parts) {
    List<Part> given = parts.stream().filter(part -> part.name().equals("resource")).toList();
    if (given.isEmpty()) {
      return Optional.empty();
    }
    if (given.size() > 1) {
      throw twice("resource", given.size());
    }
    return Optional.of(
        FhirBody.read(
            given
                .get(0)
                .resource()
                .orElseThrow(
                    () ->
                        FhirRefusal.badParameter(
                            "resource",
                            "Parameter resource holds no resource; expected one in its"
                                + " resource."))));
  }

  private static Optional<String> value(String name, OperationInput query, List<Part> parts) {
    List<String> values = new ArrayList<>(query.text(name).stream().toList());
    for (Part part : parts) {
      if (part.name().equals(name)) {
        values.add(
            part.value()
                .orElseThrow(
                    () ->
                        FhirRefusal.badParameter(
                            name,
                            "Parameter "
                                + name
                                + " has no simple value; expected one such as "
                                + (name.equals("mode") ? "valueCode." : "valueUri."))));
      }
    }
    if (values.size() > 1) {
      throw twice(name, values.size());
    }
    return values.stream().findFirst();
  }

  private static FhirRefusal twice(String name, int times) {
    return FhirRefusal.badParameter(
        name, "Parameter " + name + " stands " + times + " times; expected it once.");
  }

  /** The resource, which has to be of the type in the address. */
  FhirBody ofType(String type) {
    FhirBody sent =
        resource.orElseThrow(
            () ->
                FhirRefusal.of(
                    400,
                    IssueCode.MISSING_PARAMETER,
                    "resource",
                    "There is no resource to validate; expected one of type "
                        + type
                        + " as the body, or as parameter resource of Parameters."));
    if (!sent.type().equals(type)) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "",
          "The resource is of type "
              + Shown.text(sent.type())
              + "; expected "
              + type
              + " as in the address.");
    }
    return sent;
  }
}
