package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.CountedPatient;
import indwell.domain.timeline.DayCount;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Ids;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.MeasureReport;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportGroupComponent;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportStatus;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportType;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Reference;

/**
 * Patient days and catheter days of a ward, and the device utilisation ratio of both: summed,
 * summed with the patients behind the sums, or of one of these patients.
 */
public final class MeasureReportMapper {
  /** The Measure that the reports follow, with its version. */
  public static final String MEASURE = Systems.BASE + "/Measure/catheter-device-days|1.0.0";

  /** Decimals of the ratio; the last one is rounded half up. */
  static final int DECIMALS = 6;

  private static final String TYPE = "MeasureReport";

  private final Optional<Reporter> reporter;

  /**
   * @param reporter the facility, where it is known
   */
  public MeasureReportMapper(Optional<Reporter> reporter) {
    this.reporter = reporter;
  }

  /**
   * The report of a ward.
   *
   * @param days the sums over the dates
   * @param facts events that made somebody count; empty where nobody asked for them
   */
  public MeasureReport summary(ReportScope scope, DayCount days, List<BedsideEvent> facts) {
    MeasureReport report =
        begin(id(scope), Profiles.DEVICE_DAY_REPORT, MeasureReportType.SUMMARY, scope, days, facts);
    report.setSubject(ResourceId.ward(scope.ward()).reference());
    return report;
  }

  /** The same report with a List behind each sum. */
  public MeasureReport subjectList(ReportScope scope, DayCount days, List<BedsideEvent> facts) {
    MeasureReport report =
        begin(
            id(scope, "subject-list"),
            Profiles.DEVICE_DAY_LIST_REPORT,
            MeasureReportType.SUBJECTLIST,
            scope,
            days,
            facts);
    report.setSubject(ResourceId.ward(scope.ward()).reference());
    for (Population population : Population.values()) {
      report.getGroupFirstRep().getPopulation().stream()
          .filter(sum -> population.isIn(sum.getCode()))
          .forEach(sum -> sum.setSubjectResults(listOf(scope, population)));
    }
    return report;
  }

  private static Reference listOf(ReportScope scope, Population population) {
    return CountedListMapper.id(scope, population).reference();
  }

  /**
   * The report of one patient in a ward.
   *
   * @param explained whether its trace names the events, too
   */
  public MeasureReport individual(ReportScope scope, CountedPatient counted, boolean explained) {
    MeasureReport report =
        begin(
            individualId(scope, counted.patient()).id(),
            Profiles.DEVICE_DAY_PATIENT_REPORT,
            MeasureReportType.INDIVIDUAL,
            scope,
            counted.days(),
            explained ? counted.facts() : List.of());
    report.setSubject(
        ResourceId.patient(counted.patient())
            .reference()
            .setIdentifier(Parts.identifier(counted.patient())));
    counted.facts().stream()
        .flatMap(MeasureReportMapper::evidence)
        .distinct()
        .forEach(resource -> report.addEvaluatedResource(resource.reference()));
    return report;
  }

  static ResourceId individualId(ReportScope scope, BusinessId patient) {
    return new ResourceId(TYPE, id(scope, "individual", patient.system(), patient.value()));
  }

  private static String id(ReportScope scope, String... parts) {
    return Ids.derive(
        TYPE,
        Stream.concat(
                Stream.of(
                    scope.ward().code(), scope.start().toString(), scope.endInclusive().toString()),
                Stream.of(parts))
            .toArray(String[]::new));
  }

  /** What an event made; a placing made the use of the catheter as well. */
  private static Stream<ResourceId> evidence(BedsideEvent event) {
    boolean places = event instanceof Insertion || event instanceof Exchange;
    ResourceId main = ResourceId.mainOf(event);
    return places
        ? Stream.of(main, ResourceId.ofEvent("DeviceUseStatement", event.key()))
        : Stream.of(main);
  }

  private MeasureReport begin(
      String id,
      String profile,
      MeasureReportType type,
      ReportScope scope,
      DayCount days,
      List<BedsideEvent> facts) {
    MeasureReport report = Parts.claim(new MeasureReport(), new ResourceId(TYPE, id), profile);
    report.addExtension(TraceExtension.of(new Trace(RuleId.DEN_1, finding(days), facts)));
    report.addExtension(scope.extension());
    report.setStatus(MeasureReportStatus.COMPLETE);
    report.setType(type);
    report.setMeasure(MEASURE);
    reporter.ifPresent(facility -> facility.nameIn(report));
    report.setPeriod(scope.period());
    report.setImprovementNotation(Hl7.DECREASE.concept());
    fill(report.addGroup(), days);
    return report;
  }

  private static String finding(DayCount days) {
    return "Patient days: "
        + days.patientDays()
        + ", counted at the ward's count time; with a urethral catheter with a drainage bag in"
        + " place: "
        + days.catheterDays()
        + ".";
  }

  private static void fill(MeasureReportGroupComponent group, DayCount days) {
    for (Population population : Population.values()) {
      group
          .addPopulation()
          .setCode(population.concept())
          .setCount(Math.toIntExact(population.of(days)));
    }
    group.setMeasureScore(days.patientDays() == 0 ? noScore() : score(days));
  }

  private static Quantity score(DayCount days) {
    BigDecimal ratio =
        BigDecimal.valueOf(days.catheterDays())
            .divide(BigDecimal.valueOf(days.patientDays()), DECIMALS, RoundingMode.HALF_UP);
    return Ucum.ONE.quantity(ratio);
  }

  /** Without patient days there is no ratio: no value, and never 0. */
  private static Quantity noScore() {
    Quantity absent = new Quantity();
    absent.addExtension(Extensions.DATA_ABSENT_REASON, new CodeType("not-applicable"));
    return absent;
  }
}
