package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import indwell.domain.refusal.Issue;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Runs the table {@code broken-bodies.txt}: every body, its status and its whole sentences. */
class BrokenBodiesTest {
  private static final Pattern MACRO =
      Pattern.compile("@hex:(?<hex>[0-9a-f]{2})|@(?<letter>[a-z]):(?<times>[0-9]+)");

  private record Case(String title, String body, List<String> answer) {}

  @TestFactory
  Stream<DynamicTest> every_row() throws IOException {
    return cases().stream()
        .map(
            row -> dynamicTest(row.title(), () -> assertThat(answer(row)).isEqualTo(row.answer())));
  }

  @Test
  void the_table_has_rows() throws IOException {
    assertThat(cases()).hasSizeGreaterThanOrEqualTo(40);
  }

  @Test
  void every_sentence_ends_with_a_full_stop() throws IOException {
    assertThat(cases())
        .allSatisfy(
            row ->
                assertThat(row.answer().subList(1, row.answer().size()))
                    .allMatch(line -> line.endsWith(".")));
  }

  private static List<String> answer(Case row) {
    EventBody body = EventBodies.read(bytes(row.body()), Samples.NOW);
    if (body instanceof EventBody.Rejected rejected) {
      return lines(rejected.status(), rejected.result());
    }
    Reading reading = ((EventBody.Single) body).reading();
    EventResult result = EventResult.of((Reading.Refused) reading);
    return lines(result.status(), result);
  }

  private static List<String> lines(int status, EventResult result) {
    List<String> lines = new ArrayList<>(List.of(String.valueOf(status)));
    result.issues().forEach(issue -> lines.add(line(issue)));
    return lines;
  }

  private static String line(Issue issue) {
    String expression = issue.expression().isEmpty() ? "." : issue.expression();
    return issue.code().code() + " " + expression + " | " + issue.diagnostics();
  }

  private static List<Case> cases() throws IOException {
    String table;
    try (InputStream in = BrokenBodiesTest.class.getResourceAsStream("broken-bodies.txt")) {
      table = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    List<Case> cases = new ArrayList<>();
    String[] blocks = table.split("(?m)^# ");
    for (int i = 1; i < blocks.length; i++) {
      cases.add(parse(blocks[i], texts(blocks[0])));
    }
    return cases;
  }

  private static List<String[]> texts(String preamble) {
    return preamble
        .lines()
        .map(String::strip)
        .filter(line -> line.matches("@[a-z]+ +\".*"))
        .map(line -> line.split(" +", 2))
        .toList();
  }

  private static Case parse(String block, List<String[]> texts) {
    List<String> lines = block.strip().lines().collect(Collectors.toList());
    int arrow = 0;
    while (!lines.get(arrow).startsWith("=> ")) {
      arrow++;
    }
    String body = String.join("\n", lines.subList(1, arrow));
    for (String[] text : texts) {
      body = body.replace(text[0], text[1]);
    }
    List<String> answer = new ArrayList<>(lines.subList(arrow, lines.size()));
    answer.set(0, answer.get(0).substring(3));
    return new Case(lines.get(0), body, answer);
  }

  private static byte[] bytes(String body) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    Matcher macro = MACRO.matcher(body);
    int done = 0;
    while (macro.find()) {
      bytes.writeBytes(body.substring(done, macro.start()).getBytes(StandardCharsets.UTF_8));
      if (macro.group("hex") != null) {
        bytes.write(Integer.parseInt(macro.group("hex"), 16));
      } else {
        bytes.writeBytes(
            macro
                .group("letter")
                .repeat(Integer.parseInt(macro.group("times")))
                .getBytes(StandardCharsets.UTF_8));
      }
      done = macro.end();
    }
    bytes.writeBytes(body.substring(done).getBytes(StandardCharsets.UTF_8));
    return bytes.toByteArray();
  }
}
