package indwell.intake;

import java.util.List;

/**
 * A row of a table.
 *
 * @param line on which it begins, from 1
 * @param cells texts without their quotation marks
 */
record CsvRow(int line, List<String> cells) {
  CsvRow {
    cells = List.copyOf(cells);
  }
}
