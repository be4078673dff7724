package indwell.domain;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * Whole stories: a file holds the zone, the events, a line of dashes, and then questions, each with
 * its whole answer below it.
 *
 * <pre>
 * ? days as of 06-05 12:00
 * ? flags at 06-03 12:00
 * ? ward A counted at 12:00 from 06-01 to 06-05
 * ? remarks
 * </pre>
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ScenarioTest {

  private static final Path SCENARIOS = Path.of("src/test/resources/scenarios");

  @TestFactory
  Stream<DynamicTest> scenarios() throws IOException {
    return files().stream()
        .map(file -> DynamicTest.dynamicTest(file.getFileName().toString(), () -> check(file)));
  }

  @Test
  void there_are_scenarios_to_run() throws IOException {
    assertThat(files()).hasSizeGreaterThanOrEqualTo(5);
  }

  private static List<Path> files() throws IOException {
    try (Stream<Path> files = Files.list(SCENARIOS)) {
      return files.filter(file -> file.toString().endsWith(".txt")).sorted().toList();
    }
  }

  private static void check(Path file) throws IOException {
    String[] halves = Files.readString(file).split("(?m)^-{5,}\\R", 2);
    List<String> lines = new ArrayList<>(halves[0].lines().toList());
    lines.removeIf(line -> line.isBlank() || line.startsWith("#"));
    String zone = lines.remove(0).substring("zone ".length());
    TimelineSentence patient = TimelineSentence.in(zone, String.join("\n", lines));
    String[] questions = halves[1].split("(?m)^\\? ");
    assertThat(questions).as("questions of " + file).hasSizeGreaterThan(1);
    for (String question : List.of(questions).subList(1, questions.length)) {
      String[] asked = question.split("\\R", 2);
      assertThat(answer(patient, asked[0])).as(asked[0]).isEqualTo(asked[1].strip());
    }
  }

  private static String answer(TimelineSentence patient, String question) {
    String[] words = question.split(" ");
    return switch (words[0]) {
      case "days" -> patient.days(words[3] + " " + words[4]);
      case "flags" -> patient.flags(words[2] + " " + words[3]);
      case "ward" -> patient.wardDays(words[1], words[4], words[6], words[8]);
      case "remarks" -> patient.remarks();
      default -> throw new IllegalArgumentException("No such question: " + question);
    };
  }
}
