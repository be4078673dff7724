package indwell.web.page.report;

import io.quarkus.qute.RawString;
import java.util.List;

/**
 * The report of a month as it is read.
 *
 * @param place the ward; empty for the house
 * @param month in words
 * @param monthValue as addresses have it
 * @param previous address of the month before
 * @param next address of the month after; empty when it has not ended
 * @param places the house and its wards
 * @param tiles what comes first
 * @param groups figures of surveillance
 * @param practice figures of practice
 * @param wards of the house, ward by ward; empty for one ward
 * @param charts with the numbers behind them
 * @param remarks what is doubtful in the events of the month
 */
public record ReportView(
    String place,
    String month,
    String monthValue,
    String previous,
    String next,
    List<Link> places,
    String action,
    List<Figure> tiles,
    List<Group> groups,
    List<Group> practice,
    List<WardRow> wards,
    List<Chart> charts,
    List<Remark> remarks,
    List<Link> links) {

  /** A link; the chosen one is the page itself. */
  public record Link(String name, String address, boolean chosen) {}

  /** Figures under a heading. */
  public record Group(String heading, List<Figure> figures) {}

  /** One ward of the house. */
  public record WardRow(String ward, String address, List<Figure> figures) {}

  /**
   * A chart and its table.
   *
   * @param id unique within the page
   * @param drawing SVG; empty when there is nothing to draw
   * @param note what to know of it; may be empty
   * @param absent why there is none; empty when there is one
   */
  public record Chart(
      String id,
      String heading,
      String rule,
      String note,
      String absent,
      List<RawString> drawing,
      List<String> header,
      List<List<Cell>> rows) {}

  /**
   * A cell of a chart's table.
   *
   * @param path what {@code $unit-report} calls it; empty for none
   */
  public record Cell(String text, String value, String path) {}

  /** What is doubtful. */
  public record Remark(String code, String sentence, String events) {}
}
