package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.event.Ward;
import indwell.fhir.term.Systems;
import indwell.port.ResourceKey;
import indwell.usecase.Asked;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDays.Table;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import indwell.web.fhir.DeviceDayReports.Counted;
import indwell.web.fhir.QueryText.Parameter;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Patient days and catheter days of all wards, or of one (contract, section 3). */
final class DeviceDaysOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/device-days";

  /** Sums, and the wards that they are of. */
  static final List<Need> REPORTS =
      List.of(Need.of("MeasureReport", Permission.READ), Need.of("Location", Permission.READ));

  /** Who is in the sums. */
  private static final List<Need> PATIENTS =
      List.of(
          Need.of("Patient", Permission.READ),
          Need.of("Encounter", Permission.READ),
          Need.of("DeviceUseStatement", Permission.READ));

  private final DeviceDays deviceDays;
  private final ReadResources resources;
  private final DeviceDayReports reports;
  private final SentDeviceDays sent;
  private final boolean oneWard;

  /**
   * @param oneWard the form below {@code Location}
   */
  DeviceDaysOperation(
      DeviceDays deviceDays,
      ReadResources resources,
      DeviceDayReports reports,
      SentDeviceDays sent,
      boolean oneWard) {
    this.deviceDays = deviceDays;
    this.resources = resources;
    this.reports = reports;
    this.sent = sent;
    this.oneWard = oneWard;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "POST"), oneWard ? "Location/{id}/$device-days" : "$device-days");
  }

  @Override
  public List<String> produces() {
    return List.of(Negotiation.FHIR_JSON, "application/json", Negotiation.CSV);
  }

  @Override
  public List<String> consumesLines() {
    return SentDeviceDays.NDJSON;
  }

  @Override
  public LineTaker lines(FhirRequest request) {
    return sent.lines(request, asked(request, request.parameters()));
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return REPORTS;
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    SentBody body = SentBody.read(request);
    DeviceDayQuestion asked = asked(request, body.parameters());
    return body.brings() ? sent.answer(request, asked, body.resources()) : stored(request, asked);
  }

  private DeviceDayQuestion asked(FhirRequest request, List<Parameter> given) {
    OperationInput input = OperationInput.of(given, DeviceDayQuestion.NAMES, request.lenient());
    Optional<Ward> ward = oneWard ? Optional.of(new Ward(request.id())) : Optional.empty();
    return DeviceDayQuestion.of(request, input, ward);
  }

  private HttpAnswer stored(FhirRequest request, DeviceDayQuestion asked) {
    if (asked.needsPatients()) {
      FhirAccess.require(request.caller(), PATIENTS);
    }
    Asked<Table> counted =
        asked.needsPatients()
            ? deviceDays.explain(asked.counted(), request.now())
            : deviceDays.count(asked.counted(), request.now());
    return counted.fold(
        table ->
            reports.answer(
                request, asked, new Counted(table, locations(table), List.of(), Map.of())),
        issue -> {
          throw FhirRefusal.of(issue);
        });
  }

  private Map<Ward, String> locations(Table table) {
    List<ResourceKey> wards =
        table.counts().keySet().stream()
            .map(ward -> new ResourceKey("Location", ward.code()))
            .toList();
    return resources.read(wards).stream()
        .collect(Collectors.toMap(one -> new Ward(one.key().id()), one -> one.json()));
  }

  @Override
  public void describe(Capabilities capabilities) {
    if (oneWard) {
      capabilities.operation("Location", "device-days", DEFINITION);
    } else {
      capabilities.operation("device-days", DEFINITION);
    }
  }
}
