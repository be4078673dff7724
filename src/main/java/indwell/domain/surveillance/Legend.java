package indwell.domain.surveillance;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The entries {@code # name: text} at the top of a data file. */
final class Legend {
  private static final Pattern ENTRY = Pattern.compile("# ([a-z]+): (\\S.*)");

  private Legend() {}

  static Map<String, String> of(List<String> lines) {
    Map<String, String> entries = new LinkedHashMap<>();
    lines.stream()
        .takeWhile(line -> line.startsWith("#"))
        .map(ENTRY::matcher)
        .filter(Matcher::matches)
        .forEach(entry -> entries.put(entry.group(1), entry.group(2)));
    return Map.copyOf(entries);
  }
}
