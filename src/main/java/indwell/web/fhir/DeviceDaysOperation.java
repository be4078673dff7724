package indwell.web.fhir;

import indwell.domain.event.Ward;
import indwell.fhir.term.Systems;
import indwell.port.ResourceKey;
import indwell.usecase.Asked;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDays.Table;
import indwell.usecase.DeviceDaysCsv;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import indwell.web.fhir.DeviceDayReports.Counted;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Patient days and catheter days of all wards, or of one (contract, section 3). */
final class DeviceDaysOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/device-days";

  private final DeviceDays deviceDays;
  private final ReadResources resources;
  private final DeviceDayReports reports;
  private final boolean oneWard;

  /**
   * @param oneWard the form below {@code Location}
   */
  DeviceDaysOperation(
      DeviceDays deviceDays, ReadResources resources, DeviceDayReports reports, boolean oneWard) {
    this.deviceDays = deviceDays;
    this.resources = resources;
    this.reports = reports;
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
  public HttpAnswer answer(FhirRequest request) {
    OperationInput input = OperationInput.of(request, DeviceDayQuestion.NAMES);
    Optional<Ward> ward = oneWard ? Optional.of(new Ward(request.id())) : Optional.empty();
    DeviceDayQuestion asked = DeviceDayQuestion.of(request, input, ward);
    Asked<Table> counted =
        asked.needsPatients()
            ? deviceDays.explain(asked.counted(), request.now())
            : deviceDays.count(asked.counted(), request.now());
    return counted.fold(
        table -> answer(request, asked, new Counted(table, locations(table), List.of())),
        issue -> {
          throw FhirRefusal.of(issue);
        });
  }

  private HttpAnswer answer(FhirRequest request, DeviceDayQuestion asked, Counted counted) {
    if (request.format().equals(Negotiation.CSV)) {
      String csv = DeviceDaysCsv.of(counted.table());
      return FhirAnswers.of(200, Negotiation.CSV, Buffer.buffer(csv));
    }
    return FhirAnswers.json(request, reports.bundle(request.base(), asked, counted));
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
