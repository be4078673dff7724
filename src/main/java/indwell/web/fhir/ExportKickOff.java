package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.IssueCode;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import indwell.usecase.export.Exports;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.time.Instant;
import java.util.List;
import java.util.Set;

/**
 * Begins an export. Without {@code Prefer: respond-async} it does the same, as it may: there is no
 * other way to answer.
 *
 * <p>Source: https://hl7.org/fhir/uv/bulkdata/STU3/export.html#bulk-data-kick-off-request
 */
final class ExportKickOff implements Interaction {
  private static final String DEFINITIONS = "http://hl7.org/fhir/uv/bulkdata/OperationDefinition/";
  private static final String GROUPS =
      "The patients who were ever in a ward; the id is the ward code. A Group can be read, searched"
          + " and exported. It is worked out for the moment of the request and has no versions.";
  private static final String INSTANTIATED =
      "http://hl7.org/fhir/uv/bulkdata/CapabilityStatement/bulk-data";
  private static final String SEPARATE = "separate-export-status";

  private final Exports exports;
  private final ExportPatients patients;
  private final ExportFilters filters;
  private final Scope scope;

  ExportKickOff(Exports exports, ExportPatients patients, ExportFilters filters, Scope scope) {
    this.exports = exports;
    this.patients = patients;
    this.filters = filters;
    this.scope = scope;
  }

  @Override
  public Route route() {
    Set<String> methods = Set.of("GET", "POST");
    return switch (scope) {
      case SYSTEM -> Route.of(methods, "$export");
      case PATIENT -> Route.of(methods, "Patient/$export");
      case GROUP -> Route.of(methods, "Group/{id}/$export");
    };
  }

  @Override
  public boolean answersHead() {
    return false;
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return scope == Scope.GROUP
        ? List.of(Need.known(), Need.of("Group", Permission.READ))
        : List.of(Need.known());
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    ExportOrder order = order(request);
    return exports
        .order(order)
        .map(id -> accepted(request, id, order.separateStatus()))
        .orElseGet(ExportKickOff::busy);
  }

  private ExportOrder order(FhirRequest request) {
    String group = scope == Scope.GROUP ? group(request) : "";
    ExportInput input = new ExportInput(request);
    input.requireFormat();
    Instant since = input.instant("_since", Instant.MIN);
    Instant until = input.instant("_until", Instant.MAX);
    List<String> types = input.types(scope, request.caller());
    List<String> usable =
        input.all("_typeFilter").stream().filter(one -> usable(request, input, one)).toList();
    Set<String> only = patients.of(request, input, scope, group);
    return new ExportOrder(
        scope,
        group,
        types,
        usable,
        only,
        since,
        until,
        request.caller().owner(),
        request.prefers(SEPARATE),
        request.base(),
        request.url(),
        input.remarks());
  }

  private String group(FhirRequest request) {
    String id = request.id();
    if (!exports.knowsGroup(id)) {
      throw FhirRefusal.notFound(
          "Group " + Shown.text(id) + " is not known; expected the code of a ward.");
    }
    return id;
  }

  private boolean usable(FhirRequest request, ExportInput input, String filter) {
    try {
      SearchQuery unused = filters.read(request.base(), filter, request.now(), request.caller());
      return true;
    } catch (FhirRefusal refusal) {
      input.passOver(refusal);
      return false;
    }
  }

  private static HttpAnswer accepted(FhirRequest request, String id, boolean separate) {
    return new HttpAnswer(202, FhirAnswers.HEADERS, Buffer.buffer())
        .with("Content-Location", request.base() + "/$export/" + id)
        .with("Preference-Applied", separate ? "respond-async, " + SEPARATE : "respond-async");
  }

  private static HttpAnswer busy() {
    return FhirAnswers.outcome(
            429,
            IssueCode.EXPORTS_BUSY,
            "As many exports are unfinished as may be; expected the request again when one of them"
                + " is finished or cancelled.")
        .with("Retry-After", "10");
  }

  @Override
  public void describe(Capabilities capabilities) {
    capabilities.instantiates(INSTANTIATED);
    switch (scope) {
      case SYSTEM -> capabilities.operation("export", DEFINITIONS + "export");
      case PATIENT -> capabilities.operation("Patient", "export", DEFINITIONS + "patient-export");
      case GROUP -> {
        capabilities.operation("Group", "export", DEFINITIONS + "group-export");
        capabilities.documentation("Group", GROUPS);
      }
    }
  }
}
