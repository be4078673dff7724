package indwell.web.page.report;

import indwell.domain.surveillance.UChart;
import indwell.usecase.UnitWard;
import indwell.web.page.svg.Ticks;
import io.quarkus.qute.RawString;
import java.util.List;

/** Draws a u chart: the rate of each month between limits of its own. */
final class RateDrawing {
  private static final double PER = 1000;

  private RateDrawing() {}

  static RawString of(UnitWard.Rates rates, List<String> labels) {
    UChart chart = rates.chart();
    int months = rates.points().size();
    double highest = chart.centre() * PER;
    long outside = 0;
    for (int i = 0; i < months; i++) {
      double rate = rates.points().get(i).rate();
      highest = Math.max(highest, Math.max(rate, chart.limits().get(i).upper()) * PER);
      outside += chart.limits().get(i).excludes(rate) ? 1 : 0;
    }
    String centre = MonthFigures.rounded(chart.centre() * PER, 2).toPlainString();
    Plot plot =
        new Plot(
            "rate",
            "Rate of confirmed CAUTI by month, u chart",
            months
                + " months around a centre of "
                + centre
                + " per 1,000 catheter days; "
                + outside
                + " outside their limits. The table below has the numbers.",
            Ticks.upTo(Math.max(highest, 1)),
            months);
    plot.unit("CAUTI per 1,000 catheter days");
    plot.labels(labels, "month");
    plot.level(chart.centre() * PER, "centre", "centre " + centre);
    double[] line = new double[months * 2];
    for (int i = 0; i < months; i++) {
      limits(plot, chart.limits().get(i), i);
      line[2 * i] = plot.middle(i);
      line[2 * i + 1] = plot.y(rates.points().get(i).rate() * PER);
    }
    plot.svg().path(line, "series");
    for (int i = 0; i < months; i++) {
      point(plot, rates, i, labels.get(i));
    }
    return plot.svg().drawn();
  }

  private static void limits(Plot plot, UChart.Limits limits, int place) {
    double upper = plot.y(limits.upper() * PER);
    plot.svg().line(plot.left(place), upper, plot.left(place + 1), upper, "limit");
    if (limits.lower() > 0) {
      double lower = plot.y(limits.lower() * PER);
      plot.svg().line(plot.left(place), lower, plot.left(place + 1), lower, "limit");
    }
  }

  private static void point(Plot plot, UnitWard.Rates rates, int place, String month) {
    double rate = rates.points().get(place).rate();
    boolean outside = rates.chart().limits().get(place).excludes(rate);
    String hover =
        month
            + ": "
            + MonthFigures.rounded(rate * PER, 2).toPlainString()
            + " per 1,000 catheter days"
            + (outside ? ", outside its limits" : "");
    double x = plot.middle(place);
    double y = plot.y(rate * PER);
    if (outside) {
      plot.svg().diamond(x, y, 7, "point outside", hover);
      plot.svg().word(x, y - 12, "limit-word middle", "outside");
    } else {
      plot.svg().dot(x, y, 4, "point", hover);
    }
  }
}
