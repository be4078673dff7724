package indwell.docs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Pages whose tables name a test in the last column, as {@code `ClassTest` method}, for what the
 * row claims.
 *
 * @param all those named
 * @param missing those of them that are not there
 */
record NamedTests(List<String> all, List<String> missing) {
  private static final Pattern TEST = Pattern.compile("`(\\w+(?:Test|IT))` (\\w+)");

  private static final Pattern MARK = Pattern.compile("\n  @(\\w*Test|TestFactory|Property)\\b");

  static NamedTests of(String page) throws IOException {
    List<String> all = new ArrayList<>();
    List<String> missing = new ArrayList<>();
    for (List<String> row : Markdown.of(page).rows()) {
      Matcher named = TEST.matcher(row.get(row.size() - 1));
      while (named.find()) {
        all.add(named.group());
        if (!isThere(named.group(1), named.group(2))) {
          missing.add(named.group());
        }
      }
    }
    return new NamedTests(all, missing);
  }

  private static boolean isThere(String type, String method) throws IOException {
    try (Stream<Path> files = Files.walk(Path.of("src/test/java"))) {
      Optional<Path> file =
          files.filter(path -> path.getFileName().toString().equals(type + ".java")).findFirst();
      return file.isPresent() && declares(Files.readString(file.get()), method);
    }
  }

  /** Whether there is a method of that name that the lines right above it mark as a test. */
  private static boolean declares(String source, String method) {
    Matcher declared =
        Pattern.compile("\n  (?:void|Stream<\\w+>) " + method + "\\(").matcher(source);
    return declared.find()
        && MARK.matcher(
                source.substring(source.lastIndexOf("\n\n", declared.start()), declared.start()))
            .find();
  }
}
