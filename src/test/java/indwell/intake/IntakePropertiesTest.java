package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.domain.event.EventType;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** What holds for every event and every body. */
class IntakePropertiesTest {

  @Property(seed = "20261125")
  void the_canonical_text_is_the_same_for_every_spelling(
      @ForAll("events") ObjectNode event, @ForAll long seed) {
    Reading.Accepted plain = Samples.accept(event.toString());
    Reading.Accepted spelt = Samples.accept(new Spelling(seed).of(event));
    assertThat(spelt).isEqualTo(plain);
    assertThat(Samples.accept(plain.canonical())).isEqualTo(plain);
  }

  @Property(seed = "20261125")
  void an_event_read_back_is_the_event_that_was_read(@ForAll("events") ObjectNode event) {
    Reading.Accepted accepted = Samples.accept(event.toString());
    assertThat(EventReader.fromCanonical(accepted.canonical())).isEqualTo(accepted.version());
  }

  @Property(seed = "20261125")
  void another_content_is_another_text(@ForAll("events") ObjectNode event) {
    String before = Samples.accept(event.toString()).canonical();
    ((ObjectNode) event.get("patient")).put("value", event.at("/patient/value").textValue() + "'");
    assertThat(Samples.accept(event.toString()).canonical()).isNotEqualTo(before);
  }

  @Property(seed = "20261125")
  void arbitrary_bytes_are_answered(@ForAll byte[] body) {
    assertThat(EventBodies.read(body, Samples.NOW)).isNotNull();
    assertThat(EventBodies.line(body, Samples.NOW)).isNotNull();
  }

  @Property(seed = "20261125")
  void arbitrary_pieces_of_JSON_are_answered(@ForAll("pieces") String body) {
    assertThat(EventBodies.read(body.getBytes(StandardCharsets.UTF_8), Samples.NOW)).isNotNull();
  }

  @Property(seed = "20261125")
  void a_damaged_event_is_answered_in_whole_sentences(
      @ForAll("events") ObjectNode event, @ForAll long seed) {
    byte[] body = event.toString().getBytes(StandardCharsets.UTF_8);
    Random random = new Random(seed);
    for (int i = random.nextInt(4); i >= 0; i--) {
      body[random.nextInt(body.length)] = (byte) "{}[]\",:\\0eu x\u00ff".charAt(random.nextInt(14));
    }
    if (EventBodies.line(body, Samples.NOW) instanceof Reading.Refused refused) {
      assertThat(refused.issues()).isNotEmpty();
      assertThat(refused.issues())
          .allSatisfy(issue -> assertThat(issue.diagnostics()).matches("[^\\p{Cc}]+\\."));
      Samples.tree(
          new String(EventResultJson.object(EventResult.of(refused)), StandardCharsets.UTF_8));
    }
  }

  /** Samples with a few optional fields left out and a few values changed. */
  @Provide
  Arbitrary<ObjectNode> events() {
    return net.jqwik.api.Combinators.combine(
            Arbitraries.of(EventType.class),
            Arbitraries.longs(),
            texts(),
            Arbitraries.integers().between(1, 9999))
        .as(IntakePropertiesTest::event);
  }

  @Provide
  Arbitrary<String> pieces() {
    return Arbitraries.of(
            "{",
            "}",
            "[",
            "]",
            ",",
            ":",
            "\"a\"",
            "\"\\ud800\"",
            "1",
            "-0.0",
            "1e99",
            "null",
            "true",
            " ",
            "\"source\"",
            "\"details\"",
            "{}",
            "[]",
            "\n")
        .list()
        .ofMaxSize(40)
        .map(list -> String.join("", list));
  }

  private static Arbitrary<String> texts() {
    return Arbitraries.strings()
        .all()
        .ofMinLength(1)
        .ofMaxLength(60)
        .filter(IntakePropertiesTest::isText);
  }

  private static boolean isText(String text) {
    Faults faults = new Faults(List.of());
    return new TextKind(128).read(text, "a", faults).isPresent();
  }

  private static ObjectNode event(EventType type, long seed, String text, int number) {
    ObjectNode event = (ObjectNode) Samples.tree(Samples.event(type));
    Random random = new Random(seed);
    ObjectNode details = (ObjectNode) event.get("details");
    ObjectNode placing =
        details.has("replacement") ? (ObjectNode) details.get("replacement") : details;
    ((ObjectNode) event.get("patient")).put("value", text);
    event.put("version", number);
    dropSome(event, random, "status", "recorder");
    dropSome(
        placing,
        random,
        "inpatient drainage balloonLabelMl balloonFilledMl material lumens lotNumber udi"
            .concat(" maxDwellDays surgeryEndedAt urineReturnedMl specimenTaken attempts")
            .concat(" insertedBeforeAdmission steps reason site purpose withCatheter")
            .split(" "));
    if (placing.has("urineReturnedMl")) {
      placing.put("urineReturnedMl", number / 8.0);
    }
    if (random.nextInt(5) == 0) {
      event.put("status", "entered-in-error");
    }
    return event;
  }

  private static void dropSome(ObjectNode object, Random random, String... names) {
    List<String> dropped = new ArrayList<>(List.of(names));
    dropped.removeIf(name -> random.nextBoolean());
    object.remove(dropped);
  }
}
