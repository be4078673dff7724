package indwell.adapter.store.sqlite;

import java.util.Collection;

/** Writes texts as a JSON array, the one kind of list that SQLite takes as a parameter. */
final class JsonArray {
  private JsonArray() {}

  static String of(Collection<String> texts) {
    StringBuilder json = new StringBuilder("[");
    for (String text : texts) {
      json.append(json.length() > 1 ? "," : "").append('"');
      text.chars().forEach(c -> append(json, (char) c));
      json.append('"');
    }
    return json.append(']').toString();
  }

  private static void append(StringBuilder json, char c) {
    if (c == '"' || c == '\\') {
      json.append('\\').append(c);
    } else if (c < ' ') {
      json.append("\\u00").append(c < 0x10 ? "0" : "").append(Integer.toHexString(c));
    } else {
      json.append(c);
    }
  }
}
