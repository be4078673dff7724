package indwell.web.fhir;

import indwell.access.Need;
import indwell.port.ExportFile;
import indwell.port.ExportJob;
import indwell.usecase.export.Exports;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

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
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.known());
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    String name = request.path().get(2);
    return ExportStatus.own(exports, request)
        .flatMap(job -> file(request, job, name))
        .map(file -> FhirAnswers.of(200, NDJSON, Buffer.buffer()).withFile(file))
        .orElseThrow(
            () ->
                FhirRefusal.notFound(
                    "File "
                        + Shown.text(name)
                        + " of this export is not here; expected one that its status lists."));
  }

  private Optional<Path> file(FhirRequest request, ExportJob job, String name) {
    job.files().stream()
        .filter(file -> file.name().equals(name))
        .flatMap(file -> types(job, file))
        .forEach(type -> FhirAccess.require(request.caller(), ExportInput.whole(type)));
    return exports.file(job.id(), name);
  }

  /** The token of today may give less than the one of the order did. */
  private static Stream<String> types(ExportJob job, ExportFile file) {
    return switch (file.kind()) {
      case OUTPUT -> Stream.of(file.type());
      case DELETED -> job.order().types().stream();
      case ERROR -> Stream.of();
    };
  }

  @Override
  public void describe(Capabilities capabilities) {
    // R4 has no element for it; the operation's definition has it.
  }
}
