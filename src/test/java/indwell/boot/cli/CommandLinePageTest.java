package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The rows of {@code docs/command-line.md}, run. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CommandLinePageTest {

  /** One row of the table of outcomes. */
  private record Row(String command, int exitCode, String output) {
    static Row of(String line) {
      String[] cells = line.substring(2, line.length() - 2).replace("`", "").split(" \\| ");
      return new Row(cells[0], Integer.parseInt(cells[1]), cells[2].replace("\\|", "|"));
    }
  }

  private static List<Row> rows() throws Exception {
    return Files.readAllLines(Path.of("docs/command-line.md")).stream()
        .dropWhile(line -> !line.startsWith("| command |"))
        .skip(2)
        .map(Row::of)
        .toList();
  }

  @Test
  void every_command_does_what_its_row_says() throws Exception {
    List<Row> rows = rows();
    assertThat(rows).hasSizeGreaterThan(12);
    for (Row row : rows) {
      Ran ran = Ran.command(row.command().split(" "));
      assertThat(ran.code()).as(row + ran.err()).isEqualTo(row.exitCode());
      assertThat(ran.err()).as(row.command()).doesNotContain("\tat ");
      if (row.output().equals("-")) {
        assertThat(ran.out()).as(row.command()).isEmpty();
      } else {
        assertThat(ran.out()).as(row.command()).contains(row.output());
      }
    }
  }
}
