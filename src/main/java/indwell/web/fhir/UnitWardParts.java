package indwell.web.fhir;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.GChart;
import indwell.domain.surveillance.UChart;
import indwell.domain.surveillance.Withheld;
import indwell.usecase.UnitMonth;
import indwell.usecase.UnitWard;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Writes what a unit report says of one ward over the whole range: pooled ratios and charts. */
final class UnitWardParts {
  private static final int CHART_DECIMALS = 4;
  private static final double PER = 1000;

  private final UnitWard ward;
  private final List<FigureTrace.Fact> facts = new ArrayList<>();

  UnitWardParts(UnitWard ward, List<UnitMonth> months) {
    this.ward = ward;
    facts.add(new FigureTrace.CountedWard(ward.ward().code()));
    months.stream()
        .filter(month -> month.month().ward().equals(ward.ward()) && month.factsVersion() > 0)
        .map(month -> new FigureTrace.SuppliedFacts(month.month(), month.factsVersion()))
        .forEach(facts::add);
  }

  void addTo(FigureParts parts) {
    parts.text("ward", ward.ward().code());
    RatioParts.add(
        parts.group("pooledSir"), RuleId.SIR_1, Optional.empty(), ward.infections(), facts);
    RatioParts.add(
        parts.group("pooledSur"), RuleId.SUR_1, Optional.empty(), ward.utilisation(), facts);
    addRates(parts.group("uChart"));
    addGaps(parts.group("gChart"));
  }

  private void addRates(FigureParts parts) {
    if (ward.rates().isEmpty()) {
      FigureTrace none =
          FigureTrace.of(
              RuleId.CHART_U, "No month has both a confirmed count and catheter days.", facts);
      parts
          .number("centre", Optional.empty(), FigureParts.NOT_APPLICABLE, none)
          .text("withheld", Withheld.NO_OBSERVATION.sentence());
      return;
    }
    UnitWard.Rates rates = ward.rates().get();
    FigureTrace trace =
        FigureTrace.of(
            RuleId.CHART_U,
            "CAUTI per 1,000 catheter days over " + rates.points().size() + " months.",
            facts);
    parts.number("centre", rates.chart().centre() * PER, CHART_DECIMALS, trace);
    for (int i = 0; i < rates.points().size(); i++) {
      addPoint(parts.group("point"), rates, i, trace);
    }
    if (rates.points().size() < UChart.ENOUGH_POINTS) {
      parts.text(
          "remark",
          "Only "
              + rates.points().size()
              + " months are charted; at least "
              + UChart.ENOUGH_POINTS
              + " are advised (rule K2).");
    }
    addUnknown(parts);
  }

  private static void addPoint(
      FigureParts parts, UnitWard.Rates rates, int place, FigureTrace trace) {
    double rate = rates.points().get(place).rate();
    UChart.Limits limits = rates.chart().limits().get(place);
    parts
        .month("month", rates.months().get(place))
        .number("rate", rate * PER, CHART_DECIMALS, trace)
        .number("lower", limits.lower() * PER, CHART_DECIMALS, trace)
        .number("upper", limits.upper() * PER, CHART_DECIMALS, trace)
        .yes("outside", limits.excludes(rate), trace);
  }

  private void addGaps(FigureParts parts) {
    if (ward.gaps().isEmpty()) {
      Withheld reason = ward.gapsWithheld().orElse(Withheld.NO_EVENT_DATES);
      FigureTrace none = FigureTrace.of(RuleId.CHART_G, reason.sentence(), facts);
      parts
          .number("centre", Optional.empty(), FigureParts.NOT_APPLICABLE, none)
          .text("withheld", reason.sentence());
      return;
    }
    GChart chart = ward.gaps().get();
    FigureTrace trace =
        FigureTrace.of(
            RuleId.CHART_G,
            "Days between " + (chart.gaps().size() + 1) + " confirmed CAUTI by their dates.",
            facts);
    parts
        .number("centre", chart.centre(), CHART_DECIMALS, trace)
        .number("upper", chart.upper(), CHART_DECIMALS, trace)
        .number("median", chart.median(), CHART_DECIMALS, trace)
        .count("upperByProbability", chart.upperByProbability(), trace);
    for (long gap : chart.gaps()) {
      parts.group("gap").count("days", gap, trace).yes("improvement", gap > chart.upper(), trace);
    }
    if (chart.threeZerosInARow()) {
      parts.text("remark", "Three gaps in a row are 0 days (rule K6).");
    }
    addUnknown(parts);
  }

  private void addUnknown(FigureParts parts) {
    if (ward.unknownMonths() > 0) {
      parts.text("remark", ward.unknownMonths() + " months have no confirmed count.");
    }
  }
}
