package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/**
 * Reads facts sent as a table: a header of column names, one row a ward and month. Columns may be
 * left out and stand in any order; an empty cell says nothing, and dates in one cell are divided by
 * spaces. One wrong row refuses the table.
 */
public final class FactsTableReader {
  private static final Pattern NUMBER =
      Pattern.compile("-?(0|[1-9]\\d*)(\\.\\d+)?([eE][+-]?\\d+)?");

  private final List<FactsField> columns = new ArrayList<>();
  private final List<FactsReading.Accepted> taken = new ArrayList<>();
  private final FactsIssues issues = new FactsIssues();
  private final LocalDate today;

  private FactsTableReader(LocalDate today) {
    this.today = today;
  }

  /**
   * Reads a table.
   *
   * @param today the facility's date
   */
  public static FactsBody read(byte[] body, LocalDate today) {
    OptionalInt fault = Utf8.firstFault(body);
    if (fault.isPresent()) {
      return malformed(
          "",
          "The text is no UTF-8 at byte "
              + (fault.getAsInt() + 1)
              + "; expected"
              + " a table in UTF-8.");
    }
    try {
      List<CsvRow> rows = CsvReader.read(new String(body, StandardCharsets.UTF_8));
      return new FactsTableReader(today).read(rows);
    } catch (CsvFault e) {
      return malformed(e.place(), e.sentence());
    }
  }

  private FactsBody read(List<CsvRow> rows) {
    if (rows.isEmpty()) {
      return malformed("line 1", "The table is empty; expected a header with ward and month.");
    }
    Optional<FactsBody> header = readHeader(rows.get(0));
    if (header.isPresent()) {
      return header.get();
    }
    if (rows.size() - 1 > FactsBodies.MAX_FACTS) {
      return FactsBodies.rejected(
          413,
          Issue.error(
              IssueCode.TOO_MANY_ROWS,
              "",
              "The table has "
                  + (rows.size() - 1)
                  + " rows; expected at most "
                  + FactsBodies.MAX_FACTS
                  + "."));
    }
    rows.subList(1, rows.size()).forEach(this::readRow);
    return issues.any() ? FactsBodies.refused(issues.all()) : new FactsBody.Accepted(taken);
  }

  private Optional<FactsBody> readHeader(CsvRow header) {
    for (String name : header.cells()) {
      String place = "line " + header.line() + ", column " + (columns.size() + 1);
      Optional<FactsField> field =
          Arrays.stream(FactsField.values()).filter(one -> one.column().equals(name)).findFirst();
      if (field.isEmpty()) {
        return Optional.of(
            malformed(
                place,
                "Column "
                    + Quoted.text(name)
                    + " is unknown; expected only "
                    + String.join(
                        ", ", Arrays.stream(FactsField.values()).map(FactsField::column).toList())
                    + "."));
      }
      if (columns.contains(field.get())) {
        return Optional.of(malformed(place, "Column " + name + " stands twice; expected it once."));
      }
      columns.add(field.get());
    }
    return columns.contains(FactsField.WARD) && columns.contains(FactsField.MONTH)
        ? Optional.empty()
        : Optional.of(
            malformed(
                "line " + header.line(),
                "The header lacks ward or month; expected both of these columns."));
  }

  private void readRow(CsvRow row) {
    String line = "line " + row.line();
    if (row.cells().size() != columns.size()) {
      issues.add(
          List.of(
              Issue.error(
                  IssueCode.MALFORMED_TABLE,
                  "",
                  "The row has "
                      + row.cells().size()
                      + " cells; expected "
                      + columns.size()
                      + ", as the header has.")),
          issue -> line);
      return;
    }
    FactsReading reading =
        FactsReader.read(tree(row), List.of(), FactsField::column, Optional.empty(), today);
    if (reading instanceof FactsReading.Accepted accepted) {
      issues.requireNew(accepted.month(), line);
      taken.add(accepted);
    } else {
      issues.add(((FactsReading.Refused) reading).issues(), issue -> place(line, issue));
    }
  }

  /** {@code line 3, column 5}; the line alone where the column is not in the table. */
  private String place(String line, Issue issue) {
    String name = issue.expression().replaceFirst("\\[\\d+]$", "");
    int column = columns.stream().map(FactsField::column).toList().indexOf(name);
    return column < 0 ? line : line + ", column " + (column + 1);
  }

  private Map<String, Object> tree(CsvRow row) {
    Map<String, Object> tree = new LinkedHashMap<>();
    for (int i = 0; i < columns.size(); i++) {
      String cell = row.cells().get(i);
      if (!cell.isEmpty()) {
        tree.put(columns.get(i).column(), value(columns.get(i), cell));
      }
    }
    return tree;
  }

  private static Object value(FactsField field, String cell) {
    if (field.isList()) {
      return Arrays.asList(cell.trim().split(" +", -1));
    }
    boolean number =
        field.isNumber() && NUMBER.matcher(cell).matches() && !NumberText.isAbsurd(cell);
    return number ? new BigDecimal(cell).stripTrailingZeros() : cell;
  }

  private static FactsBody malformed(String place, String sentence) {
    return FactsBodies.rejected(400, Issue.error(IssueCode.MALFORMED_TABLE, place, sentence));
  }
}
