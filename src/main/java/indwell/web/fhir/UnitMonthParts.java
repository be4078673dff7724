package indwell.web.fhir;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.ConfirmedEvents;
import indwell.domain.surveillance.ElectronicCheck;
import indwell.domain.surveillance.PredictedCauti;
import indwell.domain.surveillance.SurveillanceRates;
import indwell.domain.surveillance.ValidationRun;
import indwell.domain.surveillance.WeeklyEstimate;
import indwell.domain.surveillance.Withheld;
import indwell.usecase.UnitMonth;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Writes one ward and month of a unit report. */
final class UnitMonthParts {
  static final int UTILISATION_DECIMALS = 6;
  static final int RATE_DECIMALS = 4;
  private static final int ESTIMATE_DECIMALS = 1;
  private static final int PERCENT_DECIMALS = 4;
  private static final int PREDICTED_DECIMALS = 6;

  private final UnitMonth month;
  private final Optional<PredictedCauti> model;
  private final List<FigureTrace.Fact> counted;
  private final List<FigureTrace.Fact> supplied;
  private final List<FigureTrace.Fact> both;

  /**
   * @param model the configured table, if there is one
   */
  UnitMonthParts(UnitMonth month, Optional<PredictedCauti> model) {
    this.month = month;
    this.model = model;
    this.counted = List.of(new FigureTrace.CountedWard(month.month().ward().code()));
    this.supplied =
        month.factsVersion() == 0
            ? List.of()
            : List.of(new FigureTrace.SuppliedFacts(month.month(), month.factsVersion()));
    this.both = new ArrayList<>(counted);
    this.both.addAll(supplied);
  }

  void addTo(FigureParts parts) {
    parts.text("ward", month.month().ward().code()).month("month", month.month().month());
    addDays(parts);
    addRate(parts);
    RatioParts.add(
        parts.group("sir"),
        RuleId.SIR_1,
        month.infections().tally(),
        month.infections().result(),
        supplied);
    RatioParts.add(
        parts.group("sur"),
        RuleId.SUR_1,
        month.utilisation().tally(),
        month.utilisation().result(),
        both);
    addEstimate(parts.group("weeklyEstimate"));
    addCheck(parts.group("electronicCheck"), "patient-days", month.patientDays());
    addCheck(parts.group("electronicCheck"), "catheter-days", month.catheterDays());
    model.ifPresent(table -> addPrediction(parts.group("predictedCauti"), table));
  }

  private void addDays(FigureParts parts) {
    long patients = month.counted().patientDays();
    long catheters = month.counted().catheterDays();
    FigureTrace count =
        FigureTrace.of(
            RuleId.DEN_1,
            patients + " patient days and " + catheters + " catheter days were counted.",
            counted);
    FigureTrace ratio =
        FigureTrace.of(
            RuleId.DUR_1, catheters + " catheter days in " + patients + " patient days.", counted);
    parts
        .count("patientDays", patients, count)
        .count("catheterDays", catheters, count)
        .number(
            "utilisationRatio",
            SurveillanceRates.deviceUtilisation(catheters, patients, UTILISATION_DECIMALS),
            FigureParts.NOT_APPLICABLE,
            ratio);
  }

  private void addRate(FigureParts parts) {
    Optional<Integer> events = month.facts().confirmed().map(ConfirmedEvents::count);
    long catheters = month.counted().catheterDays();
    FigureTrace trace =
        FigureTrace.of(
            RuleId.RATE_1,
            events.map(count -> count + " confirmed CAUTI").orElse("no count of confirmed CAUTI")
                + " in "
                + catheters
                + " catheter days.",
            both);
    parts
        .count("confirmedCauti", events, trace)
        .number(
            "rate",
            events.flatMap(count -> SurveillanceRates.perThousand(count, catheters, RATE_DECIMALS)),
            events.isEmpty() ? FigureParts.UNKNOWN : FigureParts.NOT_APPLICABLE,
            trace);
  }

  private void addEstimate(FigureParts parts) {
    if (month.estimate().isEmpty()) {
      FigureTrace none = FigureTrace.of(RuleId.SAMPLE_1, "No weekly sample is known.", supplied);
      parts
          .number("catheterDays", Optional.empty(), FigureParts.UNKNOWN, none)
          .text("withheld", Withheld.NO_SAMPLE.sentence());
      return;
    }
    WeeklyEstimate estimate = month.estimate().get();
    FigureTrace trace =
        FigureTrace.of(
            RuleId.SAMPLE_1,
            estimate.sampled().catheterDays()
                + " of "
                + estimate.sampled().patientDays()
                + " sampled patient days were with a catheter; "
                + estimate.patientDays()
                + " patient days in the month; "
                + estimate.deviceDays()
                + " device days in "
                + estimate.months()
                + " months.",
            both);
    Optional<BigDecimal> days = estimate.catheterDays(ESTIMATE_DECIMALS);
    parts.number("catheterDays", days, FigureParts.NOT_APPLICABLE, trace);
    if (days.isEmpty()) {
      parts.text("withheld", Withheld.NO_SAMPLED_PATIENT_DAYS.sentence());
    }
    estimate.doubts().forEach(doubt -> parts.text("remark", doubt.sentence()));
  }

  private void addCheck(FigureParts parts, String what, UnitMonth.Check check) {
    parts.code("count", what);
    ValidationRun run = check.run();
    if (check.check().isEmpty()) {
      FigureTrace none = FigureTrace.of(RuleId.ELEC_1, "No manual count is known.", both);
      parts
          .text("withheld", Withheld.NO_MANUAL_COUNT.sentence())
          .count("run", run.months(), none)
          .yes("validated", run.validated(), none);
      return;
    }
    ElectronicCheck counts = check.check().get();
    FigureTrace trace =
        FigureTrace.of(
            RuleId.ELEC_1,
            counts.electronic() + " electronic, " + counts.manual() + " manual.",
            both);
    parts
        .count("electronic", counts.electronic(), trace)
        .count("manual", counts.manual(), trace)
        .number(
            "differencePercent",
            counts.differencePercent(PERCENT_DECIMALS),
            FigureParts.NOT_APPLICABLE,
            trace);
    counts
        .passes()
        .ifPresentOrElse(
            passes -> parts.yes("passes", passes, trace),
            () -> parts.text("withheld", Withheld.MANUAL_COUNT_ZERO.sentence()));
    parts.count("run", run.months(), trace).yes("validated", run.validated(), trace);
  }

  private void addPrediction(FigureParts parts, PredictedCauti table) {
    long catheters = month.counted().catheterDays();
    String finding =
        month
                .predicted()
                .map(found -> "exp(" + found.sum().toPlainString() + ") * " + catheters)
                .orElse("not predicted for")
            + " catheter days.";
    FigureTrace trace = new FigureTrace(RuleId.PRED_1, table.source(), finding, counted);
    parts
        .number(
            "predicted",
            month
                .predicted()
                .map(found -> found.predicted().setScale(PREDICTED_DECIMALS, RoundingMode.HALF_UP)),
            FigureParts.UNKNOWN,
            trace)
        .text("baseline", table.baseline());
    if (month.predicted().isEmpty()) {
      parts.text("withheld", Withheld.NO_LOCATION_GROUP.sentence());
    }
  }
}
