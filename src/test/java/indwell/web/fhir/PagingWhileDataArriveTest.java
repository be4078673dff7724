package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever is written between two pages: what was there at the first is given once. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PagingWhileDataArriveTest {
  private FhirServer server;
  private Answers answers;
  private int written;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    answers = new Answers(server);
    for (int i = 0; i < 11; i++) {
      weigh("w" + i, 1, 60 + i);
    }
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  /** A weight at a time of its own; a higher version changes the value and not the time. */
  private void weigh(String id, int version, int kg) {
    server.advance(Duration.ofSeconds(1));
    int hour = Math.floorMod(id.hashCode(), 20);
    server.record(
        FhirServer.event(
                id, "weight-measured", "2026-03-02T%02d:00:00Z".formatted(hour), "\"kg\":" + kg)
            .replace("\"type\"", "\"version\":" + version + ",\"type\""));
  }

  private void writeSomething() {
    weigh("new" + written, 1, 80);
    // What a page has given, what it has not given yet, and the first of all are written anew.
    for (int i = 0; i < 11; i += 3) {
      weigh("w" + i, written + 2, 90 + written);
    }
    written++;
  }

  @ParameterizedTest
  @ValueSource(strings = {"_id", "-_id", "_lastUpdated", "-_lastUpdated", "date", "-date"})
  void nothing_is_left_out_and_nothing_comes_twice(String sort) throws Exception {
    Set<String> before = new HashSet<>(answers.matches("/Observation?_count=100"));
    assertThat(before).hasSize(11);
    List<String> seen = new ArrayList<>();
    Optional<String> next = Optional.of("/Observation?_count=2&_sort=" + sort);
    while (next.isPresent()) {
      JsonNode page = answers.get(next.get());
      Answers.resources(page, "match")
          .forEach(one -> seen.add("Observation/" + one.get("id").asText()));
      next = answers.next(page);
      writeSomething();
    }
    assertThat(seen).doesNotHaveDuplicates().containsAll(before);
  }

  @Test
  void a_history_goes_back_from_where_it_began() throws Exception {
    writeSomething();
    JsonNode whole = answers.get("/Observation/_history?_count=1000");
    List<String> expected = versions(whole);
    List<String> seen = new ArrayList<>();
    Optional<String> next = Optional.of("/Observation/_history?_count=3");
    while (next.isPresent()) {
      JsonNode page = answers.get(next.get());
      seen.addAll(versions(page));
      next = answers.next(page);
      writeSomething();
    }
    assertThat(seen).isEqualTo(expected);
  }

  private static List<String> versions(JsonNode bundle) {
    List<String> versions = new ArrayList<>();
    bundle
        .get("entry")
        .forEach(
            entry ->
                versions.add(
                    entry.at("/request/url").asText() + " " + entry.at("/response/etag").asText()));
    return versions;
  }

  @Test
  void a_history_begins_where_it_is_asked_to() throws Exception {
    String since = server.now().plusSeconds(1).toString();
    weigh("late", 1, 70);
    JsonNode type = answers.get("/Observation/_history?_since=" + since);
    assertThat(type.get("total").asInt()).isEqualTo(1);
    assertThat(type.at("/entry/0/request/method").asText()).isEqualTo("PUT");
    assertThat(type.at("/entry/0/response/status").asText()).isEqualTo("201");
    JsonNode system = answers.get("/_history?_since=" + since);
    assertThat(system.get("total").asInt()).isEqualTo(2); // The weight and its Provenance.
    String id = type.at("/entry/0/resource/id").asText();
    assertThat(answers.get("/Observation/" + id + "/_history?_since=" + since).get("total").asInt())
        .isEqualTo(1);
    server.advance(Duration.ofSeconds(5));
    String later = server.now().toString();
    JsonNode none = answers.get("/Observation/" + id + "/_history?_since=" + later);
    assertThat(none.get("total").asInt()).isZero();
    assertThat(server.get("/Observation/none/_history?_since=" + later).statusCode())
        .isEqualTo(404);
  }
}
