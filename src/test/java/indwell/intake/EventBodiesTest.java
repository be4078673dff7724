package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeout;

import indwell.domain.event.EventType;
import indwell.domain.refusal.Issue;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class EventBodiesTest {
  private static final String EVENT = Samples.event(EventType.WEIGHT_MEASURED);

  /** Generous for a busy machine, and far below what quadratic work would take. */
  private static final Duration SOON = Duration.ofSeconds(3);

  @Test
  void an_element_at_fault_refuses_itself_only() {
    EventBody.Batch batch =
        (EventBody.Batch)
            read(
                "["
                    + String.join(
                        ",",
                        EVENT,
                        "1",
                        "null",
                        "\"x\"",
                        "[]",
                        "{}",
                        "{\"source\":\"a\",\"source\":\"b\",\"eventId\":\"e9\"}",
                        Samples.with(EVENT, "details.kg", "1e1000000"),
                        "{\"x\":\"" + "y".repeat(EventBodies.MAX_EVENT_BYTES) + "\"}",
                        EVENT)
                    + "]");
    assertThat(batch.readings())
        .extracting(EventBodiesTest::shortly)
        .containsExactly(
            "accepted",
            "The event is 1; expected an object.",
            "The event is null; expected an object.",
            "The event is \"x\"; expected an object.",
            "The event is an array; expected an object.",
            "Field source is missing; expected 1 to 64 characters out of A-Z a-z 0-9 . _ -.",
            "Name \"source\" stands more than once in its object; expected it once.",
            "Number 1e1000000 is beyond reading; expected at most 40 digits and an exponent"
                + " within ±40.",
            "The event is larger than 65536 bytes; expected at most that.",
            "accepted");
    Reading.Refused named = (Reading.Refused) batch.readings().get(6);
    assertThat(named.source()).isEmpty();
    assertThat(named.eventId()).contains("e9");
  }

  @Test
  void an_empty_array_is_a_batch_of_none() {
    assertThat(read(" [ ] ")).isEqualTo(new EventBody.Batch(List.of()));
  }

  @ParameterizedTest
  @CsvSource({"1000, 200", "1001, 413"})
  void an_array_has_at_most_a_thousand_elements(int elements, int status) {
    assertThat(status("[" + "{},".repeat(elements - 1) + "{}]")).isEqualTo(status);
  }

  @ParameterizedTest
  @CsvSource({"65536, 201", "65537, 413"})
  void an_event_has_at_most_64_KiB(int bytes, int status) {
    assertThat(status(EVENT + " ".repeat(bytes - EVENT.length()))).isEqualTo(status);
  }

  @ParameterizedTest
  @CsvSource({"16777216, 200", "16777217, 413"})
  void an_array_has_at_most_16_MiB(int bytes, int status) {
    String array = "[" + EVENT + "]";
    assertThat(status(array + " ".repeat(bytes - array.length()))).isEqualTo(status);
  }

  @ParameterizedTest
  @CsvSource({"65536, true", "65537, false"})
  void an_element_has_at_most_64_KiB(int bytes, boolean accepted) {
    String element =
        EVENT.replace("\"details\"", " ".repeat(bytes - EVENT.length()) + "\"details\"");
    EventBody.Batch batch = (EventBody.Batch) read("[" + element + "," + EVENT + "]");
    assertThat(batch.readings().get(0) instanceof Reading.Accepted).isEqualTo(accepted);
    assertThat(batch.readings().get(1)).isInstanceOf(Reading.Accepted.class);
  }

  @ParameterizedTest
  @ValueSource(ints = {200, 500, 1_000, 10_000})
  void a_single_event_nested_deep_is_refused_as_itself(int depth) {
    String deep = "[".repeat(depth) + "]".repeat(depth);
    assertThat(status(Samples.with(EVENT, "x", deep))).isEqualTo(422);
    assertThat(status(Samples.with(EVENT, "x", deep).replace("]]}", "]}"))).isEqualTo(400);
  }

  @Test
  void sixteen_MiB_of_brackets_are_refused_at_once() {
    byte[] brackets = bytes("[".repeat(EventBodies.MAX_ARRAY_BYTES));
    byte[] objects = bytes("[" + "{\"a\":".repeat(EventBodies.MAX_ARRAY_BYTES / 5 - 1));
    byte[] late = bytes("[{\"a\":\"" + "x".repeat(70_000) + "\",\"b\":" + "[".repeat(9_000_000));
    assertTimeout(
        SOON,
        () -> {
          assertThat(status(brackets)).isEqualTo(400);
          assertThat(status(objects)).isEqualTo(400);
          assertThat(status(late)).isEqualTo(400);
        });
  }

  @Test
  void costly_bodies_are_answered_soon() {
    List<byte[]> bodies = new ArrayList<>();
    bodies.add(bytes("[" + "1,".repeat(EventBodies.MAX_ARRAY_BYTES / 2 - 2) + "1]"));
    bodies.add(bytes("[{\"a\":[" + "1,".repeat(8_000_000) + "1]}]"));
    bodies.add(bytes("[{" + "\"a\":1,".repeat(2_700_000) + "\"a\":1}]"));
    bodies.add(bytes("[\"" + "x".repeat(16_000_000) + "\"]"));
    bodies.add(bytes("[" + "9".repeat(16_000_000) + "]"));
    bodies.add(bytes("[{\"a\":1e" + "9".repeat(16_000_000) + "}]"));
    bodies.add(bytes("{\"a\":" + "9".repeat(65_000) + "}"));
    bodies.add(bytes("{" + "\"a\":1,".repeat(10_000) + "\"a\":1}"));
    bodies.add(bytes("{\"a\":\"" + "\\u0000".repeat(10_000) + "\"}"));
    bodies.add(bytes("{" + collidingNames(6_000) + "}"));
    for (byte[] body : bodies) {
      assertTimeout(SOON, () -> assertThat(status(body)).isIn(200, 400, 413, 422));
    }
  }

  /** Names with equal hash codes: every pair Aa and BB has the same. */
  private static String collidingNames(int count) {
    List<String> names = new ArrayList<>();
    for (int i = 0; i < count / 2; i++) {
      StringBuilder name = new StringBuilder();
      for (int bit = 0; bit < 12; bit++) {
        name.append((i >> bit & 1) == 0 ? "Aa" : "BB");
      }
      names.add("\"" + name + "\":1");
    }
    return String.join(",", names.subList(0, 2_000));
  }

  @Test
  void a_line_is_one_object() {
    assertThat(line(EVENT)).isEqualTo("accepted");
    assertThat(line("[]")).isEqualTo("The event is an array; expected an object.");
    assertThat(line("{")).startsWith("The text ends before its JSON does at line 1, column 2;");
    assertThat(line("{\"a\":1,\"a\":1}")).startsWith("Name \"a\" stands more than once");
    assertThat(line(EVENT.replace('\n', ' ') + " ".repeat(EventBodies.MAX_EVENT_BYTES)))
        .isEqualTo("The text is larger than 65536 bytes; expected at most that.");
  }

  @Test
  void names_the_media_type_that_is_not_read() {
    assertThat(EventBodies.unsupportedMediaType(Optional.of("text/xml")).diagnostics())
        .isEqualTo(
            "Media type \"text/xml\" is not read; expected application/json or"
                + " application/x-ndjson.");
    Issue none = EventBodies.unsupportedMediaType(Optional.empty());
    assertThat(none.diagnostics())
        .isEqualTo("No media type is given; expected application/json or application/x-ndjson.");
    assertThat(EventResult.refused(none).status()).isEqualTo(415);
  }

  private static int status(String body) {
    return status(bytes(body));
  }

  private static int status(byte[] body) {
    EventBody read = EventBodies.read(body, Samples.NOW);
    if (read instanceof EventBody.Rejected rejected) {
      return rejected.status();
    }
    if (read instanceof EventBody.Single single) {
      return single.reading() instanceof Reading.Refused refused
          ? EventResult.of(refused).status()
          : 201;
    }
    return 200;
  }

  private static EventBody read(String body) {
    return EventBodies.read(bytes(body), Samples.NOW);
  }

  private static String line(String line) {
    return shortly(EventBodies.line(bytes(line), Samples.NOW));
  }

  private static String shortly(Reading reading) {
    return reading instanceof Reading.Refused refused
        ? refused.issues().get(0).diagnostics()
        : "accepted";
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }
}
