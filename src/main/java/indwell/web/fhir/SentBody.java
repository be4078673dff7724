package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.usecase.sent.Place;
import indwell.usecase.sent.SentResources;
import indwell.web.fhir.BundleReader.Sent;
import indwell.web.fhir.ParametersBody.Part;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * A JSON body of an operation on resources: a Bundle of them, Parameters with such Bundles, or
 * Parameters with none.
 *
 * @param resources what was sent to be counted; nothing if there was no Bundle
 * @param bundles how many there were
 * @param parameters the simple ones, those of the query first
 */
record SentBody(SentResources resources, int bundles, List<Parameter> parameters) {
  private static final String RESOURCE = "resource";
  private static final Set<String> TYPES =
      Set.of("collection", "searchset", "transaction", "batch");

  /**
   * Reads it.
   *
   * @throws FhirRefusal 400 for any other body
   */
  static SentBody read(FhirRequest request) {
    List<Parameter> parameters = new ArrayList<>(request.parameters());
    SentResources resources = new SentResources();
    if (!request.method().equals("POST") || request.body().length() == 0) {
      return new SentBody(resources, 0, parameters);
    }
    FhirBody body = FhirBody.read(request.body().getBytes());
    if (body.type().equals("Bundle")) {
      take(body.bytes(), "Bundle", resources);
      return new SentBody(resources, 1, parameters);
    }
    List<Part> parts = ParametersBody.parts(OperationInput.parameters(body).bytes());
    int bundles = 0;
    for (int i = 0; i < parts.size(); i++) {
      Part part = parts.get(i);
      if (part.name().equals(RESOURCE) && part.resource().isPresent()) {
        bundles++;
        String at = "Parameters.parameter[" + i + "].resource";
        take(bundle(part.resource().get(), at), at, resources);
      } else {
        parameters.add(OperationInput.simple(part));
      }
    }
    return new SentBody(resources, bundles, parameters);
  }

  /** Whether there is something to be counted beside the store. */
  boolean brings() {
    return bundles > 0;
  }

  private static byte[] bundle(byte[] json, String at) {
    FhirBody body = FhirBody.read(json);
    if (!body.type().equals("Bundle")) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_COLLECTION,
          at,
          "The resource is of type " + Shown.text(body.type()) + "; expected a Bundle.");
    }
    return json;
  }

  private static void take(byte[] json, String at, SentResources resources) {
    Sent bundle = BundleReader.readCollection(json);
    if (!TYPES.contains(bundle.type())) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_COLLECTION,
          at + ".type",
          "Bundle type "
              + Shown.text(bundle.type())
              + " is not counted; expected collection, searchset, transaction or batch.");
    }
    for (BundleEntry entry : bundle.entries()) {
      Place place = Place.entry(at, entry.index());
      if (entry.resource().isPresent()) {
        resources.add(place, entry.fullUrl(), entry.resource().get());
      } else if (!entry.reads()) {
        resources.addNothing(place);
      }
    }
  }
}
