package indwell.web.page.report;

import indwell.domain.surveillance.GChart;
import indwell.web.page.svg.Ticks;
import io.quarkus.qute.RawString;
import java.util.ArrayList;
import java.util.List;

/** Draws a g chart: the days from one event to the next. */
final class GapDrawing {
  private GapDrawing() {}

  static RawString of(GChart chart) {
    int gaps = chart.gaps().size();
    double highest = chart.upper();
    for (long gap : chart.gaps()) {
      highest = Math.max(highest, (double) gap);
    }
    String centre = MonthFigures.rounded(chart.centre(), 1).toPlainString();
    Plot plot =
        new Plot(
            "gaps",
            "Days between confirmed CAUTI, g chart",
            gaps
                + " gaps around a centre of "
                + centre
                + " days; one above the upper limit is an improvement. The table below has the"
                + " numbers.",
            Ticks.wholeUpTo(Math.max(highest, 1)),
            gaps);
    plot.unit("days to the next event");
    List<String> labels = new ArrayList<>();
    double[] line = new double[gaps * 2];
    for (int i = 0; i < gaps; i++) {
      labels.add(Integer.toString(i + 1));
      line[2 * i] = plot.middle(i);
      line[2 * i + 1] = plot.y((double) chart.gaps().get(i));
    }
    plot.labels(labels, "gap");
    plot.level(chart.centre(), "centre", "centre " + centre);
    plot.level(
        chart.upper(),
        "limit",
        "upper limit " + MonthFigures.rounded(chart.upper(), 1).toPlainString());
    plot.svg().path(line, "series");
    for (int i = 0; i < gaps; i++) {
      long gap = chart.gaps().get(i);
      boolean improved = gap > chart.upper();
      String hover = gap + " days" + (improved ? ", an improvement" : "");
      if (improved) {
        plot.svg().diamond(plot.middle(i), plot.y((double) gap), 7, "point improved", hover);
      } else {
        plot.svg().dot(plot.middle(i), plot.y((double) gap), 4, "point", hover);
      }
    }
    return plot.svg().drawn();
  }
}
