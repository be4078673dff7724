package indwell.web.page.report;

import indwell.web.page.svg.Scale;
import indwell.web.page.svg.Svg;
import indwell.web.page.svg.Ticks;
import java.math.BigDecimal;
import java.util.List;

/** The frame of a chart: values upwards from 0, places from left to right. */
final class Plot {
  static final double RIGHT = 985;
  static final double TOP = 34;
  static final double BOTTOM = 250;
  private static final double WIDTH = 1000;
  private static final double HEIGHT = 296;
  private static final double LEFT = 60;
  private static final int MOST_LABELS = 14;

  private final Svg svg;
  private final Scale up;
  private final Scale across;

  Plot(String id, String title, String description, List<BigDecimal> ticks, int places) {
    this.svg = new Svg(id, WIDTH, HEIGHT, title, description);
    this.up = new Scale(0, ticks.get(ticks.size() - 1).doubleValue(), BOTTOM, TOP);
    this.across = new Scale(0, Math.max(places, 1), LEFT, RIGHT);
    for (BigDecimal tick : ticks) {
      double y = y(tick.doubleValue());
      svg.line(LEFT, y, RIGHT, y, "grid");
      svg.word(LEFT - 8, y + 4, "label end", Ticks.label(tick));
    }
  }

  Svg svg() {
    return svg;
  }

  double y(double value) {
    return up.at(value);
  }

  /** The left edge of a place, from 0. */
  double left(int place) {
    return across.at(place);
  }

  double middle(int place) {
    return (left(place) + left(place + 1)) / 2;
  }

  /** What the axis upwards counts. */
  void unit(String unit) {
    svg.word(LEFT - 8, TOP - 16, "label", unit);
  }

  /** Names the places, each of them or every second, third and so on. */
  void labels(List<String> labels, String unit) {
    int step = Math.max(1, (labels.size() + MOST_LABELS - 1) / MOST_LABELS);
    for (int i = 0; i < labels.size(); i += step) {
      svg.word(middle(i), BOTTOM + 18, "label middle", labels.get(i));
    }
    svg.word(RIGHT, BOTTOM + 38, "label end", unit);
  }

  /** A level line with its name at the right end. */
  void level(double value, String style, String name) {
    svg.line(LEFT, y(value), RIGHT, y(value), style);
    svg.word(RIGHT, y(value) - 5, "label end", name);
  }
}
