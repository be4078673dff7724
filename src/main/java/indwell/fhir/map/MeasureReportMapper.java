package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.DayCount;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Ids;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import indwell.fhir.term.Term;
import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.List;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.MeasureReport;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportGroupComponent;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportStatus;
import org.hl7.fhir.r4.model.MeasureReport.MeasureReportType;
import org.hl7.fhir.r4.model.Period;
import org.hl7.fhir.r4.model.Quantity;

/** Patient days and catheter days of a ward, and the device utilisation ratio of both. */
public final class MeasureReportMapper {
  /** The Measure that the reports follow, with its version. */
  public static final String MEASURE = Systems.BASE + "/Measure/catheter-device-days|1.0.0";

  /** Decimals of the ratio; the last one is rounded half up. */
  static final int DECIMALS = 6;

  private MeasureReportMapper() {}

  /**
   * The report of one ward for dates within one calendar month.
   *
   * @param start first date
   * @param endInclusive last date
   * @param days the sums over those dates
   * @param facts events that made somebody count; empty where nobody asked for them
   * @throws IllegalArgumentException if the dates lie in two months
   */
  public static MeasureReport of(
      Ward ward, LocalDate start, LocalDate endInclusive, DayCount days, List<BedsideEvent> facts) {
    if (!start.withDayOfMonth(1).equals(endInclusive.withDayOfMonth(1))) {
      throw new IllegalArgumentException(
          "A report covers one calendar month, not " + start + " to " + endInclusive);
    }
    String id = Ids.derive("MeasureReport", ward.code(), start.toString(), endInclusive.toString());
    MeasureReport report =
        Parts.claim(
            new MeasureReport(), new ResourceId("MeasureReport", id), Profiles.DEVICE_DAY_REPORT);
    report.addExtension(TraceExtension.of(new Trace(RuleId.DEN_1, finding(days), facts)));
    report.setStatus(MeasureReportStatus.COMPLETE);
    report.setType(MeasureReportType.SUMMARY);
    report.setMeasure(MEASURE);
    report.setSubject(ResourceId.ward(ward).reference());
    report.setPeriod(period(start, endInclusive));
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

  private static Period period(LocalDate start, LocalDate endInclusive) {
    return new Period()
        .setStartElement(new DateTimeType(start.toString()))
        .setEndElement(new DateTimeType(endInclusive.toString()));
  }

  private static void fill(MeasureReportGroupComponent group, DayCount days) {
    addPopulation(group, Hl7.DENOMINATOR, days.patientDays());
    addPopulation(group, Hl7.NUMERATOR, days.catheterDays());
    group.setMeasureScore(days.patientDays() == 0 ? noScore() : score(days));
  }

  private static void addPopulation(MeasureReportGroupComponent group, Term code, long count) {
    group.addPopulation().setCode(code.concept()).setCount(Math.toIntExact(count));
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
