package indwell.web.fhir;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.timeline.DayCount;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MeasureReportMapper;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.term.Systems;
import indwell.port.ResourceKey;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDays.Question;
import indwell.usecase.DeviceDays.Table;
import indwell.usecase.DeviceDaysCsv;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import io.vertx.core.buffer.Buffer;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.hl7.fhir.r4.model.MeasureReport;

/** Patient days and catheter days of all wards, or of one (contract, section 3). */
final class DeviceDaysOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/device-days";
  private static final String MEASURE_ID = "catheter-device-days";

  private final DeviceDays deviceDays;
  private final ReadResources resources;
  private final String measure;
  private final boolean oneWard;

  /**
   * @param measure the Measure that the reports follow, as JSON
   * @param oneWard the form below {@code Location}
   */
  DeviceDaysOperation(
      DeviceDays deviceDays, ReadResources resources, String measure, boolean oneWard) {
    this.deviceDays = deviceDays;
    this.resources = resources;
    this.measure = measure;
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
    OperationInput input = OperationInput.of(request, Set.of("start", "end", "why"));
    Optional<Ward> ward = oneWard ? Optional.of(new Ward(request.id())) : Optional.empty();
    Question question = new Question(ward, input.date("start"), input.date("end"));
    return (input.flag("why")
            ? deviceDays.explain(question, request.now())
            : deviceDays.count(question, request.now()))
        .fold(
            table -> answer(request, table),
            issue -> {
              throw FhirRefusal.of(issue);
            });
  }

  private HttpAnswer answer(FhirRequest request, Table table) {
    if (request.format().equals(Negotiation.CSV)) {
      return FhirAnswers.of(200, Negotiation.CSV, Buffer.buffer(DeviceDaysCsv.of(table)));
    }
    return FhirAnswers.json(request, BundleJson.collection(entries(request.base(), table)));
  }

  private List<Entry> entries(String base, Table table) {
    List<Entry> entries = new ArrayList<>();
    table.counts().forEach((ward, days) -> addReports(base, table, ward, days, entries));
    List<ResourceKey> wards =
        table.counts().keySet().stream()
            .map(ward -> new ResourceKey("Location", ward.code()))
            .toList();
    resources.read(wards).forEach(location -> entries.add(Entry.of(base, location)));
    if (!entries.isEmpty()) {
      entries.add(Entry.of(base, "Measure", MEASURE_ID, measure));
    }
    if (!table.remarks().isEmpty()) {
      entries.add(Entry.unnamed(FhirJson.encode(Outcomes.ofRemarks(table.remarks()))));
    }
    return entries;
  }

  private static void addReports(
      String base,
      Table table,
      Ward ward,
      SortedMap<LocalDate, DayCount> days,
      List<Entry> entries) {
    SortedMap<YearMonth, SortedMap<LocalDate, DayCount>> months = new TreeMap<>();
    days.forEach(
        (date, count) ->
            months
                .computeIfAbsent(YearMonth.from(date), ignored -> new TreeMap<>())
                .put(date, count));
    for (SortedMap<LocalDate, DayCount> month : months.values()) {
      List<BedsideEvent> facts = table.factsOf(ward, YearMonth.from(month.firstKey()));
      MeasureReport report =
          MeasureReportMapper.of(ward, month.firstKey(), month.lastKey(), sum(month), facts);
      entries.add(
          Entry.of(
              base, "MeasureReport", report.getIdElement().getIdPart(), FhirJson.encode(report)));
    }
  }

  private static DayCount sum(Map<LocalDate, DayCount> days) {
    return days.values().stream().reduce(DayCount.NONE, DayCount::plus);
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
