package indwell.web.fhir;

import ca.uhn.fhir.util.FhirTerser;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.CountedPatient;
import indwell.domain.timeline.DayCount;
import indwell.fhir.map.CountedListMapper;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MeasureReportMapper;
import indwell.fhir.map.Population;
import indwell.fhir.map.ReportScope;
import indwell.fhir.map.WardMapper;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.term.Systems;
import indwell.usecase.DeviceDays.Table;
import indwell.usecase.DeviceDaysCsv;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import io.vertx.core.buffer.Buffer;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/** Makes the reports of an answer to {@code $device-days}, and what they name. */
final class DeviceDayReports {
  /** So many reports of patients are in one answer at most. */
  static final int MOST_PATIENTS = 5_000;

  private static final String MEASURE_ID = "catheter-device-days";

  private final MeasureReportMapper reports;
  private final String measure;

  /**
   * @param measure the Measure that the reports follow, as JSON
   */
  DeviceDayReports(MeasureReportMapper reports, String measure) {
    this.reports = reports;
    this.measure = measure;
  }

  /**
   * What was counted.
   *
   * @param locations the Locations of the wards as JSON
   * @param issues what else is to be said beside the remarks about the counted dates
   * @param names what references of ours are to be called instead
   */
  record Counted(
      Table table, Map<Ward, String> locations, List<Issue> issues, Map<String, String> names) {}

  /** The answer, in the format that was asked for. */
  HttpAnswer answer(FhirRequest request, DeviceDayQuestion asked, Counted counted) {
    if (request.format().equals(Negotiation.CSV)) {
      String csv = DeviceDaysCsv.of(counted.table());
      return FhirAnswers.of(200, Negotiation.CSV, Buffer.buffer(csv));
    }
    return FhirAnswers.json(request, bundle(request.base(), asked, counted));
  }

  private String bundle(String base, DeviceDayQuestion asked, Counted counted) {
    return new Making(base, asked, counted).bundle();
  }

  private final class Making {
    private final String base;
    private final DeviceDayQuestion asked;
    private final Counted counted;
    private final Map<Ward, Optional<Coding>> kinds = new HashMap<>();
    private final Set<Ward> named = new TreeSet<>();
    private final List<Entry> entries = new ArrayList<>();

    Making(String base, DeviceDayQuestion asked, Counted counted) {
      this.base = base;
      this.asked = asked;
      this.counted = counted;
    }

    String bundle() {
      if (asked.type() != ReportType.SUMMARY) {
        refuseTooMany(counted.table());
      }
      counted.table().counts().forEach((ward, days) -> months(days).forEach(m -> add(ward, m)));
      named.forEach(
          ward ->
              Optional.ofNullable(counted.locations().get(ward))
                  .ifPresent(json -> entries.add(Entry.of(base, "Location", ward.code(), json))));
      if (!entries.isEmpty()) {
        entries.add(Entry.of(base, "Measure", MEASURE_ID, measure));
      }
      if (!counted.table().remarks().isEmpty() || !counted.issues().isEmpty()) {
        Resource told = Outcomes.ofRemarks(counted.table().remarks(), counted.issues());
        entries.add(Entry.unnamed(FhirJson.encode(told)));
      }
      return BundleJson.collection(entries);
    }

    private void add(Ward ward, SortedMap<LocalDate, DayCount> month) {
      List<CountedPatient> patients =
          counted.table().patientsOf(ward, YearMonth.from(month.firstKey()));
      if (asked.type() == ReportType.INDIVIDUAL && patients.isEmpty()) {
        return;
      }
      named.add(ward);
      ReportScope scope =
          new ReportScope(
              ward, kinds.computeIfAbsent(ward, this::kind), month.firstKey(), month.lastKey());
      DayCount days = month.values().stream().reduce(DayCount.NONE, DayCount::plus);
      switch (asked.type()) {
        case SUMMARY -> add(reports.summary(scope, days, facts(scope)));
        case SUBJECT_LIST -> {
          add(reports.subjectList(scope, days, facts(scope)));
          for (Population population : Population.values()) {
            add(CountedListMapper.of(scope, population, patients));
          }
          patients.forEach(one -> add(reports.individual(scope, one, asked.why())));
        }
        case INDIVIDUAL ->
            patients.forEach(one -> add(reports.individual(scope, one, asked.why())));
      }
    }

    private List<BedsideEvent> facts(ReportScope scope) {
      return asked.why()
          ? counted.table().factsOf(scope.ward(), YearMonth.from(scope.start()))
          : List.of();
    }

    private Optional<Coding> kind(Ward ward) {
      return Optional.ofNullable(counted.locations().get(ward))
          .filter(json -> json.contains(Systems.HSLOC))
          .flatMap(json -> WardMapper.kind((Location) FhirJson.parse(json)));
    }

    private void add(Resource resource) {
      if (!counted.names().isEmpty()) {
        rename(resource);
      }
      String id = resource.getIdElement().getIdPart();
      entries.add(Entry.of(base, resource.fhirType(), id, FhirJson.encode(resource)));
    }

    private void rename(Resource resource) {
      FhirTerser terser = FhirJson.context().newTerser();
      for (Reference reference :
          terser.getAllPopulatedChildElementsOfType(resource, Reference.class)) {
        Optional.ofNullable(counted.names().get(reference.getReference()))
            .ifPresent(reference::setReference);
      }
    }
  }

  private static void refuseTooMany(Table table) {
    long many =
        table.patients().values().stream()
            .flatMap(months -> months.values().stream())
            .mapToLong(List::size)
            .sum();
    if (many > MOST_PATIENTS) {
      throw FhirRefusal.of(
          400,
          IssueCode.TOO_MANY_PATIENT_REPORTS,
          "end",
          "The answer would have "
              + many
              + " reports of patients; expected at most "
              + MOST_PATIENTS
              + ", of fewer months or of one ward.");
    }
  }

  /** The dates by month. */
  private static List<SortedMap<LocalDate, DayCount>> months(SortedMap<LocalDate, DayCount> days) {
    SortedMap<YearMonth, SortedMap<LocalDate, DayCount>> months = new TreeMap<>();
    days.forEach(
        (date, count) ->
            months
                .computeIfAbsent(YearMonth.from(date), ignored -> new TreeMap<>())
                .put(date, count));
    return List.copyOf(months.values());
  }
}
