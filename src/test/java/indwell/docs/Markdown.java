package indwell.docs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** What the document tests ask of a Markdown file. */
public final class Markdown {
  private static final Pattern LINK = Pattern.compile("]\\(([^)\\s]+)\\)");
  private static final Pattern FENCE =
      Pattern.compile("^```(\\w+)\\n(.*?)^```$", Pattern.MULTILINE | Pattern.DOTALL);

  private final Path file;
  private final String text;

  private Markdown(Path file) throws IOException {
    this.file = file;
    this.text = Files.readString(file);
  }

  public static Markdown of(String file) throws IOException {
    return new Markdown(Path.of(file));
  }

  /** Every Markdown file of the repository outside build output. */
  static List<Markdown> all() throws IOException {
    List<Path> files = new ArrayList<>();
    try (Stream<Path> top = Files.list(Path.of("."))) {
      top.filter(Markdown::isMarkdown).forEach(files::add);
    }
    for (String folder : List.of("docs", "examples", "fhir-profiles")) {
      if (!Files.isDirectory(Path.of(folder))) {
        continue;
      }
      try (Stream<Path> below = Files.walk(Path.of(folder))) {
        below.filter(Markdown::isMarkdown).forEach(files::add);
      }
    }
    List<Markdown> all = new ArrayList<>();
    for (Path one : files) {
      all.add(new Markdown(one));
    }
    return all;
  }

  private static boolean isMarkdown(Path path) {
    return path.toString().endsWith(".md");
  }

  /** Links to files that are not there, as "file: link". */
  List<String> brokenLinks() {
    List<String> broken = new ArrayList<>();
    for (MatchResult link : LINK.matcher(text).results().toList()) {
      String target = link.group(1).replaceFirst("#.*", "");
      boolean elsewhere = target.isEmpty() || target.matches("[a-z]+:.*");
      if (!elsewhere && !Files.exists(file.resolveSibling(target))) {
        broken.add(file + ": " + target);
      }
    }
    return broken;
  }

  /** The code blocks of a language, without their fences. */
  public List<String> blocks(String language) {
    return FENCE
        .matcher(text)
        .results()
        .filter(block -> block.group(1).equals(language))
        .map(block -> block.group(2).strip())
        .toList();
  }

  /** Every match of a pattern's first group. */
  List<String> matches(String pattern) {
    return Pattern.compile(pattern, Pattern.MULTILINE)
        .matcher(text)
        .results()
        .map(found -> found.group(1))
        .toList();
  }

  /** The cells of the tables' rows, headings included. */
  public List<List<String>> rows() {
    return text.lines()
        .filter(line -> line.startsWith("| "))
        .map(line -> Arrays.asList(line.substring(2, line.length() - 2).split(" \\| ", -1)))
        .toList();
  }

  int lines() {
    return (int) text.lines().count();
  }
}
