package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs broken-facts.txt, and proves that docs/errors.md shows sentences that are answered. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BrokenFactsTest {
  /** Codes of requests that a file of bodies cannot show; the tests named have them. */
  private static final Set<String> ELSEWHERE = Set.of("IND-0231", "IND-0233");

  private static final ObjectMapper JSON = new ObjectMapper();
  private static FactsServer server;

  /** One refused request. */
  record Case(String request, String body, List<String> expected) {
    static Case of(String block) {
      String[] halves = block.split("\n---\n", -1);
      String[] request = halves[0].split("\n", 2);
      return new Case(request[0], request[1], halves[1].strip().lines().toList());
    }

    @Override
    public String toString() {
      return request + " " + body;
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
    String[] request = broken.request().split(" ");
    HttpResponse<String> answer = server.send(request[0], request[1], broken.body());

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
  void a_table_of_too_many_rows_is_refused() throws Exception {
    String table = "ward,month\n" + "A,2026-01\n".repeat(10_001);
    HttpResponse<String> answer = server.send("POST", "/surveillance", table);
    assertThat(answer.statusCode()).isEqualTo(413);
    assertThat(answer.body())
        .contains("IND-0231", "The table has 10001 rows; expected at most 10000.");
  }

  @Test
  void a_body_of_too_many_bytes_is_refused() throws Exception {
    assertThat(server.send("POST", "/surveillance", "x".repeat(4 * 1024 * 1024 + 1)).statusCode())
        .isEqualTo(413);
    assertThat(
            server
                .send("PUT", "/surveillance/A/2026-01", "{" + " ".repeat(65_536) + "}")
                .statusCode())
        .isEqualTo(413);
  }

  @Test
  void bytes_that_are_no_text_are_refused() throws Exception {
    HttpResponse<String> answer =
        server.send("POST", "/surveillance", "text/csv", "\u0000,month\n", Optional.empty());
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body())
        .contains("IND-0230", "The text is no UTF-8 at byte 1; expected a table in UTF-8.");
  }

  @Test
  void the_examples_of_the_page_are_answered() throws IOException {
    String table = text();
    List<String[]> rows =
        Files.readAllLines(Path.of("docs/errors.md")).stream()
            .filter(line -> line.matches("\\| IND-02[23]\\d .*"))
            .map(line -> line.substring(2, line.length() - 2).split(" \\| ", -1))
            .toList();
    assertThat(rows.stream().map(row -> row[0]))
        .containsExactlyElementsOf(
            Arrays.stream(IssueCode.values())
                .map(IssueCode::code)
                .filter(code -> code.matches("IND-02[23]\\d"))
                .toList());
    assertThat(rows)
        .filteredOn(row -> !ELSEWHERE.contains(row[0]))
        .allSatisfy(row -> assertThat(table).contains(row[0] + " ", "| " + row[3] + "\n"));
  }

  static Stream<Case> cases() throws IOException {
    String cases =
        text().lines().filter(line -> !line.startsWith("#")).collect(Collectors.joining("\n"));
    return Arrays.stream(cases.strip().split("\n\n(?=[A-Z]+ /)")).map(Case::of);
  }

  private static String text() throws IOException {
    try (InputStream in = BrokenFactsTest.class.getResourceAsStream("broken-facts.txt")) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
