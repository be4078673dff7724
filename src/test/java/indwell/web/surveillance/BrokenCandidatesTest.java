package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.docs.Markdown;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs broken-candidates.txt, and proves that docs/errors.md shows sentences that are answered. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BrokenCandidatesTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static FactsServer server;

  /** One refused question. */
  record Case(String body, List<String> expected) {
    static Case of(String block) {
      String[] halves = block.split("\n---\n", -1);
      return new Case(halves[0], halves[1].strip().lines().toList());
    }

    @Override
    public String toString() {
      return body;
    }
  }

  @BeforeAll
  static void start() throws Exception {
    server = new FactsServer();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  @ParameterizedTest
  @MethodSource("cases")
  void is_refused_with_every_fault_named(Case broken) throws Exception {
    HttpResponse<String> answer = server.send("POST", "/surveillance/candidates", broken.body());

    List<String> lines = new ArrayList<>();
    JsonNode result = JSON.readTree(answer.body());
    for (JsonNode issue : result.get("issues")) {
      String place = issue.get("expression").asText();
      lines.add(
          "%d %s %s | %s"
              .formatted(
                  answer.statusCode(),
                  issue.get("code").asText(),
                  place.isEmpty() ? "-" : place,
                  issue.get("diagnostics").asText()));
    }
    assertThat(result.get("outcome").asText()).isEqualTo("refused");
    assertThat(lines).isEqualTo(broken.expected());
  }

  @Test
  void lists_that_are_too_long_are_refused() throws Exception {
    String question =
        "{\"patient\":{\"system\":\"urn:s\",\"value\":\"v\"},\"ageYears\":1,\"cultures\":[%s],"
            + "\"findings\":[%s]}";
    String culture = "{\"collectedOn\":\"2026-03-01\",\"organisms\":[]}";
    String finding = "{\"kind\":\"urgency\",\"on\":\"2026-03-01\"}";

    assertThat(sentences(question.formatted(many(51, culture), many(1001, finding))))
        .containsExactly(
            "Field cultures has 51 cultures; expected at most 50.",
            "Field findings has 1001 findings; expected at most 1000.");
    assertThat(sentences(question.formatted(many(50, culture), many(1000, finding))))
        .containsExactly(
            "Patient v is not known in that system; expected one that an event named.");
  }

  private static String many(int count, String element) {
    return Stream.generate(() -> element).limit(count).collect(Collectors.joining(","));
  }

  private static List<String> sentences(String body) throws Exception {
    return JSON.readTree(server.send("POST", "/surveillance/candidates", body).body())
        .get("issues")
        .findValuesAsText("diagnostics");
  }

  @Test
  void the_examples_of_the_page_are_answered() throws IOException {
    String table = text();
    List<List<String>> rows =
        Markdown.of("docs/errors.md").rows().stream()
            .filter(row -> row.get(0).matches("IND-030\\d"))
            .toList();

    assertThat(rows)
        .extracting(row -> row.get(0))
        .containsExactlyElementsOf(
            Arrays.stream(IssueCode.values())
                .map(IssueCode::code)
                .filter(code -> code.matches("IND-030\\d"))
                .toList());
    assertThat(rows)
        .allSatisfy(row -> assertThat(table).contains(row.get(0) + " ", "| " + row.get(3) + "\n"));
  }

  static Stream<Case> cases() throws IOException {
    String cases =
        text().lines().filter(line -> !line.startsWith("#")).collect(Collectors.joining("\n"));
    return Arrays.stream(cases.strip().split("\n\n")).map(Case::of);
  }

  private static String text() throws IOException {
    try (InputStream in = BrokenCandidatesTest.class.getResourceAsStream("broken-candidates.txt")) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
