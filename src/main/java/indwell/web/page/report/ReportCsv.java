package indwell.web.page.report;

import indwell.web.page.report.ReportView.Group;
import java.util.List;

/**
 * A report as a table of comma-separated values (RFC 4180): one row a figure. What a spreadsheet
 * could take for a formula cannot occur: no field begins with anything but a letter or digit.
 */
final class ReportCsv {
  private static final String END = "\r\n";
  private final StringBuilder text =
      new StringBuilder("ward,month,measure,value,unit,rule,remark").append(END);

  /** Adds figures of a ward; an empty one stands for the house. */
  ReportCsv add(String ward, String month, List<Group> groups) {
    for (Group group : groups) {
      group.figures().forEach(figure -> add(ward, month, figure));
    }
    return this;
  }

  private void add(String ward, String month, Figure figure) {
    text.append(
            String.join(
                ",",
                ward,
                month,
                field(figure.path()),
                field(figure.value()),
                field(figure.unit()),
                field(figure.why().rule()),
                field(figure.absent())))
        .append(END);
  }

  private static String field(String value) {
    boolean plain = value.chars().noneMatch(c -> c == ',' || c == '"' || c == '\r' || c == '\n');
    return plain ? value : "\"" + value.replace("\"", "\"\"") + "\"";
  }

  /** The table. */
  String text() {
    return text.toString();
  }
}
