package indwell.adapter.store.jdbc;

import java.util.ArrayList;
import java.util.List;

/**
 * A list of texts in one text: each ended by a line feed, with backslash and line feed escaped, so
 * that the empty list and the list of one empty text differ.
 */
final class TextList {
  private TextList() {}

  static String join(List<String> texts) {
    StringBuilder joined = new StringBuilder();
    for (String text : texts) {
      joined.append(text.replace("\\", "\\\\").replace("\n", "\\n")).append('\n');
    }
    return joined.toString();
  }

  static List<String> split(String joined) {
    List<String> texts = new ArrayList<>();
    int start = 0;
    for (int end = joined.indexOf('\n'); end >= 0; end = joined.indexOf('\n', start)) {
      texts.add(unescaped(joined.substring(start, end)));
      start = end + 1;
    }
    return texts;
  }

  private static String unescaped(String line) {
    if (line.indexOf('\\') < 0) {
      return line;
    }
    StringBuilder text = new StringBuilder(line.length());
    for (int i = 0; i < line.length(); i++) {
      char c = line.charAt(i);
      if (c == '\\') {
        i++;
        text.append(line.charAt(i) == 'n' ? '\n' : '\\');
      } else {
        text.append(c);
      }
    }
    return text.toString();
  }
}
