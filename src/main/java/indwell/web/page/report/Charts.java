package indwell.web.page.report;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.DwellTimes;
import indwell.domain.surveillance.GChart;
import indwell.domain.surveillance.UChart;
import indwell.domain.surveillance.Withheld;
import indwell.usecase.UnitWard;
import indwell.web.page.report.ReportView.Cell;
import indwell.web.page.report.ReportView.Chart;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;

/** The charts of a report, each with the table of its numbers. */
final class Charts {
  private static final int DECIMALS = 4;
  private static final double PER = 1000;

  private Charts() {}

  /** The rate over the months. */
  static Chart rates(UnitWard ward) {
    if (ward.rates().isEmpty()) {
      return new Chart(
          "rate",
          "Rate by month, u chart",
          RuleId.CHART_U.id(),
          "",
          "No month has both a confirmed count and catheter days.",
          List.of(),
          List.of(),
          List.of());
    }
    UnitWard.Rates rates = ward.rates().get();
    List<List<Cell>> rows = new ArrayList<>();
    List<String> labels = new ArrayList<>();
    for (int i = 0; i < rates.points().size(); i++) {
      labels.add(rates.months().get(i).toString());
      rows.add(row(rates, i));
    }
    String note =
        rates.points().size() < UChart.ENOUGH_POINTS
            ? "Only "
                + rates.points().size()
                + " months are charted; at least "
                + UChart.ENOUGH_POINTS
                + " are advised (rule K2)."
            : "";
    return new Chart(
        "rate",
        "Rate by month, u chart",
        RuleId.CHART_U.id(),
        note,
        "",
        List.of(RateDrawing.of(rates, labels)),
        List.of(
            "Month",
            "CAUTI per 1,000 catheter days",
            "Lower limit",
            "Upper limit",
            "Centre",
            "Outside"),
        rows);
  }

  private static List<Cell> row(UnitWard.Rates rates, int place) {
    double rate = rates.points().get(place).rate();
    UChart.Limits limits = rates.chart().limits().get(place);
    return List.of(
        text(rates.months().get(place).toString()),
        number(rate * PER, "uChart.point.rate"),
        number(limits.lower() * PER, "uChart.point.lower"),
        number(limits.upper() * PER, "uChart.point.upper"),
        number(rates.chart().centre() * PER, "uChart.centre"),
        text(limits.excludes(rate) ? "yes" : "no"));
  }

  /** The days between events. */
  static Chart gaps(UnitWard ward) {
    if (ward.gaps().isEmpty()) {
      return new Chart(
          "gaps",
          "Days between events, g chart",
          RuleId.CHART_G.id(),
          "",
          ward.gapsWithheld().orElse(Withheld.NO_EVENT_DATES).sentence(),
          List.of(),
          List.of(),
          List.of());
    }
    GChart chart = ward.gaps().get();
    List<List<Cell>> rows = new ArrayList<>();
    int number = 0;
    for (long gap : chart.gaps()) {
      number++;
      rows.add(
          List.of(
              text(Integer.toString(number)),
              new Cell(Long.toString(gap), Long.toString(gap), "gChart.gap.days"),
              number(chart.centre(), "gChart.centre"),
              number(chart.upper(), "gChart.upper"),
              number(chart.median(), "gChart.median"),
              text(gap > chart.upper() ? "yes" : "no")));
    }
    return new Chart(
        "gaps",
        "Days between events, g chart",
        RuleId.CHART_G.id(),
        chart.threeZerosInARow() ? "Three gaps in a row are 0 days (rule K6)." : "",
        "",
        List.of(GapDrawing.of(chart)),
        List.of("Gap", "Days", "Centre", "Upper limit", "Median", "Above it: improvement"),
        rows);
  }

  /** How long catheters were in place. */
  static Chart dwell(DwellTimes dwell) {
    List<List<Cell>> rows = new ArrayList<>();
    for (DwellTimes.Bin bin : dwell.distribution()) {
      String count = Integer.toString(bin.catheters());
      rows.add(
          List.of(text(bin.label()), new Cell(count, count, "practice.dwell.bin." + bin.label())));
    }
    boolean any = !dwell.days().isEmpty();
    return new Chart(
        "dwell",
        "Days in place of catheters that came out",
        RuleId.DWELL_1.id(),
        "",
        any ? "" : "None came out by removal or exchange.",
        any ? List.of(DwellDrawing.of(dwell)) : List.of(),
        List.of("Calendar days", "Catheters"),
        any ? rows : List.of());
  }

  private static Cell text(String text) {
    return new Cell(text, "", "");
  }

  private static Cell number(double value, String path) {
    BigDecimal exact = MonthFigures.rounded(value, DECIMALS);
    return new Cell(MonthFigures.rounded(value, 2).toPlainString(), exact.toPlainString(), path);
  }
}
