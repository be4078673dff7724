package indwell.intake;

/** What keeps a text from being a table; the message says where and what was expected. */
final class CsvFault extends Exception {
  private static final long serialVersionUID = 1L;

  private final int line;
  private final int column;

  /**
   * @param column number of the cell in its row, from 1
   */
  CsvFault(int line, int column, String sentence) {
    super(sentence, null, false, false);
    this.line = line;
    this.column = column;
  }

  /** {@code line 3, column 5}. */
  String place() {
    return "line " + line + ", column " + column;
  }

  String sentence() {
    return String.valueOf(getMessage());
  }
}
