package indwell.domain.timeline;

import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.ConflictTable.Cell;
import indwell.domain.timeline.ConflictTable.Row;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/**
 * The rows of a table of conflicts as text: {@code subject,before,event,action,remarks} under a
 * legend of lines that begin with a hash.
 *
 * @param rows without legend and header
 */
record ConflictFile(List<String> rows) {
  private static final String NAME = "conflicts.csv";
  private static final int COLUMNS = 5;

  ConflictFile {
    rows = List.copyOf(rows);
  }

  /** The file that stands beside this class. */
  static ConflictFile read() {
    try (InputStream in = ConflictFile.class.getResourceAsStream(NAME)) {
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + NAME);
      }
      BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
      return new ConflictFile(lines.lines().filter(line -> !line.startsWith("#")).skip(1).toList());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * The table of one subject.
   *
   * @throws IllegalStateException if a row has a word that is none of these, if a pair has two
   *     rows, or if one has none
   */
  <B extends Enum<B>, E extends Enum<E>, A extends Enum<A>> ConflictTable<B, E, A> table(
      String subject, Class<B> before, Class<E> event, Class<A> action) {
    List<Row<B, E, A>> own = new ArrayList<>();
    for (String row : rows) {
      String[] words = row.split(",", -1);
      if (words.length != COLUMNS) {
        throw new IllegalStateException("Not " + COLUMNS + " columns: " + row);
      }
      if (words[0].equals(subject)) {
        Cell<A> cell = new Cell<>(one(action, words[3]), remarks(words[4]));
        own.add(new Row<>(one(before, words[1]), one(event, words[2]), cell));
      }
    }
    return new ConflictTable<>(before, event, own);
  }

  private static <T extends Enum<T>> T one(Class<T> kind, String word) {
    String name = word.replace('-', '_').toUpperCase(Locale.ROOT);
    return Arrays.stream(kind.getEnumConstants())
        .filter(constant -> constant.name().equals(name))
        .findFirst()
        .orElseThrow(
            () -> new IllegalStateException("Not a " + kind.getSimpleName() + ": " + word));
  }

  private static List<IssueCode> remarks(String words) {
    return Stream.of(words.split(" "))
        .filter(word -> !word.isEmpty())
        .map(ConflictFile::remark)
        .toList();
  }

  private static IssueCode remark(String code) {
    return Arrays.stream(IssueCode.values())
        .filter(one -> one.code().equals(code))
        .findFirst()
        .orElseThrow(() -> new IllegalStateException("No such remark: " + code));
  }
}
