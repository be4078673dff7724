package indwell.intake;

import java.util.ArrayList;
import java.util.List;

/**
 * Reads comma-separated rows by RFC 4180: cells may stand in quotation marks, a mark within is
 * written twice. Lines end with LF or CRLF; blank lines are skipped.
 */
final class CsvReader {
  private final String text;
  private final List<CsvRow> rows = new ArrayList<>();
  private List<String> cells = new ArrayList<>();
  private int at;
  private int line = 1;
  private int firstLine = 1;
  private int column;

  private CsvReader(String text) {
    this.text = text;
  }

  /** All rows, blank ones left out. */
  static List<CsvRow> read(String text) throws CsvFault {
    CsvReader reader = new CsvReader(text);
    while (reader.at < text.length()) {
      reader.row();
    }
    return reader.rows;
  }

  private void row() throws CsvFault {
    firstLine = line;
    cells = new ArrayList<>();
    column = 0;
    cell();
    while (at < text.length() && text.charAt(at) == ',') {
      at++;
      cell();
    }
    endLine();
    boolean blank = cells.size() == 1 && cells.get(0).isEmpty();
    if (!blank) {
      rows.add(new CsvRow(firstLine, cells));
    }
  }

  private void cell() throws CsvFault {
    column++;
    cells.add(at < text.length() && text.charAt(at) == '"' ? quoted() : bare());
  }

  private String bare() throws CsvFault {
    int start = at;
    while (at < text.length() && ",\r\n".indexOf(text.charAt(at)) < 0) {
      if (text.charAt(at) == '"') {
        throw fault("A quotation mark stands within a cell; expected it around the whole cell.");
      }
      at++;
    }
    return text.substring(start, at);
  }

  private String quoted() throws CsvFault {
    StringBuilder cell = new StringBuilder();
    at++;
    while (true) {
      if (at >= text.length()) {
        throw fault("A quotation mark is not closed; expected another one behind the cell.");
      }
      char c = text.charAt(at++);
      if (c == '"' && (at >= text.length() || text.charAt(at) != '"')) {
        return cell.toString();
      }
      at += c == '"' ? 1 : 0;
      line += c == '\n' ? 1 : 0;
      cell.append(c);
    }
  }

  private void endLine() throws CsvFault {
    if (at >= text.length()) {
      return;
    }
    if (text.startsWith("\r\n", at)) {
      at += 2;
    } else if (text.charAt(at) == '\n') {
      at++;
    } else {
      throw fault("The cell goes on behind its quotation mark; expected a comma or a line end.");
    }
    line++;
  }

  private CsvFault fault(String sentence) {
    return new CsvFault(line, column, sentence);
  }
}
