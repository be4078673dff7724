package indwell.web.page.report;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.ConfirmedEvents;
import indwell.domain.surveillance.ElectronicCheck;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.StandardisedRatio.Calculated;
import indwell.domain.surveillance.StandardisedRatio.NotCalculated;
import indwell.domain.surveillance.SurveillanceRates;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.WeeklyEstimate;
import indwell.domain.surveillance.Withheld;
import indwell.domain.timeline.DayCount;
import indwell.usecase.UnitMonth;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The figures of a ward and month as {@code $unit-report} gives them, by the same names. */
final class MonthFigures {
  static final int UTILISATION_DECIMALS = 6;
  static final int RATE_DECIMALS = 4;
  private static final int P_DECIMALS = 4;
  private static final int ESTIMATE_DECIMALS = 1;
  private static final int PERCENT_DECIMALS = 4;
  private static final String DAYS = "days";
  private static final String PER_THOUSAND = "per 1,000 catheter days";

  private MonthFigures() {}

  /** All of them, in groups. */
  static List<ReportView.Group> of(UnitMonth month) {
    String facts =
        month.factsVersion() == 0
            ? " Nobody supplied facts of the month."
            : " Facts of people, version " + month.factsVersion() + ".";
    List<ReportView.Group> groups = new ArrayList<>();
    groups.add(new ReportView.Group("Days", days(month.counted())));
    groups.add(new ReportView.Group("Confirmed CAUTI", rate(month, facts)));
    groups.add(
        new ReportView.Group(
            "Standardised infection ratio",
            ratio("sir.", RuleId.SIR_1, month.infections().tally(), month.infections().result())));
    groups.add(
        new ReportView.Group(
            "Standardised utilisation ratio",
            ratio(
                "sur.", RuleId.SUR_1, month.utilisation().tally(), month.utilisation().result())));
    groups.add(new ReportView.Group("Electronic against manual count", checks(month, facts)));
    groups.add(new ReportView.Group("Weekly sample", sample(month.estimate(), facts)));
    return groups;
  }

  /** Days and their ratio, of a ward or of many. */
  static List<Figure> days(DayCount counted) {
    long patients = counted.patientDays();
    long catheters = counted.catheterDays();
    List<Figure> figures =
        new Figures(
                "",
                RuleId.DEN_1,
                patients + " patient days and " + catheters + " catheter days were counted.")
            .count("patientDays", "Patient days", patients, DAYS)
            .count("catheterDays", "Urinary catheter days", catheters, DAYS)
            .all();
    figures.addAll(
        new Figures(
                "", RuleId.DUR_1, catheters + " catheter days in " + patients + " patient days.")
            .number(
                "utilisationRatio",
                "Device utilisation ratio",
                SurveillanceRates.deviceUtilisation(catheters, patients, UTILISATION_DECIMALS),
                2,
                "",
                Withheld.NO_PATIENT_DAYS.sentence())
            .all());
    return figures;
  }

  private static List<Figure> rate(UnitMonth month, String facts) {
    Optional<Integer> events = month.facts().confirmed().map(ConfirmedEvents::count);
    long catheters = month.counted().catheterDays();
    String reason =
        events.isEmpty()
            ? Withheld.NO_OBSERVATION.sentence()
            : Withheld.NO_CATHETER_DAYS.sentence();
    return new Figures(
            "",
            RuleId.RATE_1,
            events.map(count -> count + " confirmed CAUTI").orElse("No count of confirmed CAUTI")
                + " in "
                + catheters
                + " catheter days."
                + facts)
        .count("confirmedCauti", "Confirmed CAUTI", events, "", reason)
        .number(
            "rate",
            "Rate",
            events.flatMap(count -> SurveillanceRates.perThousand(count, catheters, RATE_DECIMALS)),
            1,
            PER_THOUSAND,
            reason)
        .all();
  }

  /** A standardised ratio with its limits, or why it is withheld. */
  static List<Figure> ratio(
      String prefix, RuleId rule, Optional<Tally> tally, StandardisedRatio ratio) {
    String what =
        rule == RuleId.SIR_1 ? "Standardised infection ratio" : "Standardised utilisation ratio";
    Optional<Tally> counts =
        ratio instanceof Calculated calculated ? Optional.of(calculated.tally()) : tally;
    String finding =
        counts
            .map(
                found ->
                    found.observed()
                        + " observed, "
                        + found.predicted().setScale(3, RoundingMode.HALF_UP).toPlainString()
                        + " predicted by "
                        + found.baseline()
                        + ". Limits and p: mid-P exact, 95 %.")
            .orElse("Not all that is needed is known.");
    Figures figures = new Figures(prefix, rule, finding);
    counts.ifPresent(
        found ->
            figures
                .count("observed", "Observed", found.observed(), "")
                .number("predicted", "Predicted", Optional.of(found.predicted()), 3, "", ""));
    if (ratio instanceof Calculated calculated) {
      figures
          .number(
              "ratio",
              what,
              Optional.of(calculated.ratio(StandardisedRatio.DECIMALS)),
              StandardisedRatio.DECIMALS,
              "",
              "")
          .number(
              "lower",
              "Lower 95 % limit",
              calculated.lower().stream().mapToObj(MonthFigures::limit).findFirst(),
              StandardisedRatio.DECIMALS,
              "",
              "None where nothing was observed.")
          .number(
              "upper",
              "Upper 95 % limit",
              Optional.of(limit(calculated.upper())),
              StandardisedRatio.DECIMALS,
              "",
              "")
          .number("p", "p", Optional.of(rounded(calculated.p(), P_DECIMALS)), P_DECIMALS, "", "")
          .text("comparison", "Against the prediction", calculated.comparison().word());
    } else {
      figures.absent("ratio", what, ((NotCalculated) ratio).reason().sentence());
    }
    return figures.all();
  }

  private static BigDecimal limit(double value) {
    return rounded(value, StandardisedRatio.DECIMALS);
  }

  static BigDecimal rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
  }

  private static List<Figure> checks(UnitMonth month, String facts) {
    List<Figure> figures = new ArrayList<>();
    figures.addAll(check("patient-days", "Patient days", month.patientDays(), facts));
    figures.addAll(check("catheter-days", "Catheter days", month.catheterDays(), facts));
    return figures;
  }

  private static List<Figure> check(String code, String what, UnitMonth.Check check, String facts) {
    String prefix = "electronicCheck." + code + ".";
    String run = what + ", passing months in a row";
    if (check.check().isEmpty()) {
      return new Figures(prefix, RuleId.ELEC_1, "No manual count is known." + facts)
          .absent("manual", what + " counted by hand", Withheld.NO_MANUAL_COUNT.sentence())
          .count("run", run, check.run().months(), "months")
          .all();
    }
    ElectronicCheck counts = check.check().get();
    String passes = counts.passes().map(yes -> yes ? "yes" : "no").orElse("cannot be said");
    return new Figures(
            prefix,
            RuleId.ELEC_1,
            counts.electronic() + " electronic, " + counts.manual() + " manual." + facts)
        .count("electronic", what + " counted by Indwell", counts.electronic(), DAYS)
        .count("manual", what + " counted by hand", counts.manual(), DAYS)
        .number(
            "differencePercent",
            what + ", difference",
            counts.differencePercent(PERCENT_DECIMALS),
            1,
            "%",
            Withheld.MANUAL_COUNT_ZERO.sentence())
        .text("passes", what + " within 5 %", passes)
        .count("run", run, check.run().months(), "months")
        .text(
            "validated",
            what + " may stand for the manual count",
            check.run().validated() ? "yes" : "no")
        .all();
  }

  private static List<Figure> sample(Optional<WeeklyEstimate> estimate, String facts) {
    String what = "Catheter days estimated";
    return estimate
        .map(
            found ->
                new Figures(
                        "weeklyEstimate.",
                        RuleId.SAMPLE_1,
                        found.sampled().catheterDays()
                            + " of "
                            + found.sampled().patientDays()
                            + " sampled patient days were with a catheter; "
                            + found.patientDays()
                            + " patient days in the month."
                            + facts)
                    .number(
                        "catheterDays",
                        what,
                        found.catheterDays(ESTIMATE_DECIMALS),
                        1,
                        DAYS,
                        Withheld.NO_SAMPLED_PATIENT_DAYS.sentence())
                    .all())
        .orElseGet(
            () ->
                new Figures("weeklyEstimate.", RuleId.SAMPLE_1, "No weekly sample is known.")
                    .absent("catheterDays", what, Withheld.NO_SAMPLE.sentence())
                    .all());
  }
}
