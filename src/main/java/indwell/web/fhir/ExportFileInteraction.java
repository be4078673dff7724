package indwell.web.fhir;

import indwell.usecase.export.Exports;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Set;

/**
 * A file of an export.
 *
 * <p>Source: https://hl7.org/fhir/uv/bulkdata/STU3/export.html#bulk-data-output-file-request
 */
final class ExportFileInteraction implements Interaction {
  private static final String NDJSON = "application/fhir+ndjson";

  private final Exports exports;

  ExportFileInteraction(Exports exports) {
    this.exports = exports;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "$export/{id}/{vid}");
  }

  @Override
  public List<String> produces() {
    return List.of(NDJSON, "application/ndjson");
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    String name = request.path().get(2);
    return exports
        .file(request.id(), name)
        .map(file -> FhirAnswers.of(200, NDJSON, Buffer.buffer()).withFile(file))
        .orElseThrow(
            () ->
                FhirRefusal.notFound(
                    "File "
                        + Shown.text(name)
                        + " of this export is not here; expected one that its status lists."));
  }

  @Override
  public void describe(Capabilities capabilities) {
    // R4 has no element for it; the operation's definition has it.
  }
}
