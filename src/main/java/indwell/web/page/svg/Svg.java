package indwell.web.page.svg;

import io.quarkus.qute.RawString;
import java.util.Locale;

/** Writes a drawing; lengths are in units of its own width and height. Texts are escaped. */
public final class Svg {
  private final StringBuilder text = new StringBuilder();

  /**
   * Begins a drawing.
   *
   * @param id unique within the page
   * @param title what it shows, for those who do not see it
   * @param description what can be seen in it
   */
  public Svg(String id, double width, double height, String title, String description) {
    text.append("<svg class=\"drawing\" viewBox=\"0 0 ")
        .append(number(width))
        .append(' ')
        .append(number(height))
        .append("\" role=\"img\" aria-labelledby=\"")
        .append(escaped(id))
        .append("-t ")
        .append(escaped(id))
        .append("-d\"><title id=\"")
        .append(escaped(id))
        .append("-t\">")
        .append(escaped(title))
        .append("</title><desc id=\"")
        .append(escaped(id))
        .append("-d\">")
        .append(escaped(description))
        .append("</desc>");
  }

  /** A bar; one narrower than a unit is drawn a unit wide, so that it can be seen. */
  public Svg bar(double fromX, double top, double toX, double bottom, String style, String hover) {
    text.append("<rect class=\"")
        .append(style)
        .append('"')
        .append(at("x", fromX))
        .append(at("y", top))
        .append(at("width", Math.max(1, toX - fromX)))
        .append(at("height", Math.max(0, bottom - top)))
        .append('>')
        .append(title(hover))
        .append("</rect>");
    return this;
  }

  /** A straight line. */
  public Svg line(double fromX, double fromY, double toX, double toY, String style) {
    text.append("<line class=\"")
        .append(style)
        .append('"')
        .append(at("x1", fromX))
        .append(at("y1", fromY))
        .append(at("x2", toX))
        .append(at("y2", toY))
        .append("/>");
    return this;
  }

  /** A line through points, given as x and y in turn. */
  public Svg path(double[] points, String style) {
    text.append("<polyline class=\"").append(style).append("\" points=\"");
    for (int i = 0; i + 1 < points.length; i += 2) {
      text.append(i == 0 ? "" : " ")
          .append(number(points[i]))
          .append(',')
          .append(number(points[i + 1]));
    }
    text.append("\"/>");
    return this;
  }

  /** A round mark. */
  public Svg dot(double x, double y, double radius, String style, String hover) {
    text.append("<circle class=\"")
        .append(style)
        .append('"')
        .append(at("cx", x))
        .append(at("cy", y))
        .append(at("r", radius))
        .append('>')
        .append(title(hover))
        .append("</circle>");
    return this;
  }

  /** A square that stands on a corner. */
  public Svg diamond(double x, double y, double radius, String style, String hover) {
    text.append("<path class=\"")
        .append(style)
        .append("\" d=\"M")
        .append(number(x))
        .append(' ')
        .append(number(y - radius))
        .append('l')
        .append(number(radius))
        .append(' ')
        .append(number(radius))
        .append('l')
        .append(number(-radius))
        .append(' ')
        .append(number(radius))
        .append('l')
        .append(number(-radius))
        .append(' ')
        .append(number(-radius))
        .append("z\">")
        .append(title(hover))
        .append("</path>");
    return this;
  }

  /**
   * A word.
   *
   * @param style also says where the word stands about its point: {@code end}, {@code middle} or
   *     neither
   */
  public Svg word(double x, double y, String style, String word) {
    text.append("<text class=\"")
        .append(style)
        .append('"')
        .append(at("x", x))
        .append(at("y", y))
        .append('>')
        .append(escaped(word))
        .append("</text>");
    return this;
  }

  /** The drawing, which a template writes as it is. */
  public RawString drawn() {
    return new RawString(text + "</svg>");
  }

  private static String title(String hover) {
    return hover.isEmpty() ? "" : "<title>" + escaped(hover) + "</title>";
  }

  private static String at(String name, double value) {
    return " " + name + "=\"" + number(value) + "\"";
  }

  private static String number(double value) {
    String fixed = String.format(Locale.ROOT, "%.2f", value);
    return fixed.endsWith(".00") ? fixed.substring(0, fixed.length() - 3) : fixed;
  }

  private static String escaped(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }
}
