package indwell.web.fhir;

import indwell.access.Caller;
import indwell.access.Need;
import indwell.domain.refusal.IssueCode;
import indwell.port.ExportJob;
import indwell.usecase.export.Exports;
import indwell.usecase.export.Progress;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Says how far an export is, and cancels it.
 *
 * <p>Source: https://hl7.org/fhir/uv/bulkdata/STU3/export.html#bulk-data-status-request
 */
final class ExportStatus implements Interaction {
  private static final String RETRY_AFTER = "1";
  private static final String STATUS = "X-Export-Status";

  private final Exports exports;
  private final PollLimit polls = new PollLimit();

  ExportStatus(Exports exports) {
    this.exports = exports;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "DELETE"), "$export/{id}");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.known());
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput.of(request, Set.of());
    String id = request.id();
    if (request.method().equals("DELETE")) {
      return remove(request, id);
    }
    ExportJob job = own(exports, request).orElseThrow(() -> unknown(id));
    return switch (job.state()) {
      case UNFINISHED -> underWay(job, request.now());
      case FAILED -> separated(job, failed(), "500 Internal Server Error");
      case FINISHED -> separated(job, finished(request, job), "200 OK");
    };
  }

  /** The export that is asked for, if the caller ordered it; to others it is not there. */
  static Optional<ExportJob> own(Exports exports, FhirRequest request) {
    return exports.find(request.id()).filter(job -> request.caller().owns(job.order().client()));
  }

  private HttpAnswer remove(FhirRequest request, String id) {
    if (own(exports, request).isEmpty() || !exports.remove(id)) {
      throw unknown(id);
    }
    return new HttpAnswer(202, FhirAnswers.HEADERS, Buffer.buffer());
  }

  private HttpAnswer underWay(ExportJob job, Instant now) {
    if (!polls.allow(job.id(), now)) {
      return FhirAnswers.outcome(
              429,
              IssueCode.POLLED_TOO_OFTEN,
              "The status of this export is asked for too often; expected it once a second.")
          .with("Retry-After", RETRY_AFTER);
    }
    String progress = exports.progress(job.id()).map(Progress::text).orElse("waiting");
    HttpAnswer answer =
        new HttpAnswer(202, FhirAnswers.HEADERS, Buffer.buffer())
            .with("X-Progress", progress)
            .with("Retry-After", RETRY_AFTER);
    return separated(job, answer, "202 Accepted");
  }

  /** Where the caller wished so, the status of the answer is not that of the export. */
  private static HttpAnswer separated(ExportJob job, HttpAnswer answer, String status) {
    return job.order().separateStatus() ? answer.withStatus(200).with(STATUS, status) : answer;
  }

  private static HttpAnswer failed() {
    return FhirAnswers.outcome(
        500,
        IssueCode.EXPORT_FAILED,
        "The export failed, and the log of the service says why; expected a new export.");
  }

  private static HttpAnswer finished(FhirRequest request, ExportJob job) {
    boolean tokenNeeded = !(request.caller() instanceof Caller.Development);
    String manifest = ExportManifest.of(request.base(), tokenNeeded, job);
    return FhirAnswers.of(200, "application/json", Buffer.buffer(manifest))
        .with(
            "Expires",
            DateTimeFormatter.RFC_1123_DATE_TIME.format(job.expiresAt().atOffset(ZoneOffset.UTC)));
  }

  static FhirRefusal unknown(String id) {
    return FhirRefusal.notFound(
        "Export "
            + Shown.text(id)
            + " is not known; expected one that is neither removed nor expired.");
  }

  @Override
  public void describe(Capabilities capabilities) {
    // R4 has no element for it; the operation's definition has it.
  }
}
