package indwell.adapter.store.postgres;

/** Writes values down as the server reads an array (PostgreSQL 17, 8.15.6). */
final class ArrayText {
  private final StringBuilder text = new StringBuilder("{");

  private void separate() {
    if (text.length() > 1) {
      text.append(',');
    }
  }

  /** Quoted, whatever is in it. */
  void add(String value) {
    separate();
    text.append('"');
    int written = 0;
    for (int i = 0; i < value.length(); i++) {
      char c = value.charAt(i);
      if (c == '"' || c == '\\') {
        text.append(value, written, i).append('\\');
        written = i;
      }
    }
    text.append(value, written, value.length()).append('"');
  }

  void add(long value) {
    separate();
    text.append(value);
  }

  /** The array, to which nothing is added any more. */
  String finished() {
    return text.append('}').toString();
  }
}
