package indwell.web.page.report;

import indwell.domain.surveillance.DwellTimes;
import indwell.domain.surveillance.DwellTimes.Bin;
import indwell.web.page.svg.Ticks;
import io.quarkus.qute.RawString;
import java.util.List;

/** Draws how long catheters were in place. */
final class DwellDrawing {
  private static final double GAP = 6;

  private DwellDrawing() {}

  static RawString of(DwellTimes dwell) {
    List<Bin> bins = dwell.distribution();
    int most = bins.stream().mapToInt(Bin::catheters).max().orElse(1);
    Plot plot =
        new Plot(
            "dwell",
            "Days in place of catheters that came out",
            dwell.days().size()
                + " catheters, median "
                + dwell.median().map(Object::toString).orElse("none")
                + " days. The table below has the numbers.",
            Ticks.wholeUpTo(Math.max(most, 1)),
            bins.size());
    plot.unit("catheters");
    plot.labels(bins.stream().map(Bin::label).toList(), "calendar days, insertion day 1");
    for (int i = 0; i < bins.size(); i++) {
      int catheters = bins.get(i).catheters();
      if (catheters > 0) {
        plot.svg()
            .bar(
                plot.left(i) + GAP,
                plot.y(catheters),
                plot.left(i + 1) - GAP,
                Plot.BOTTOM,
                "output",
                catheters + " catheters of " + bins.get(i).label() + " days");
        plot.svg().word(plot.middle(i), plot.y(catheters) - 5, "label middle", "" + catheters);
      }
    }
    return plot.svg().drawn();
  }
}
