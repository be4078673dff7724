package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.SharedValidator;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * One version of an event that comes twice: the same content, or another.
 *
 * <p>Source: the contract, section 2: times are kept to the millisecond, {@code -00:00} and lower
 * case are read, second 60 is the next one; what is compared is the content.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SameVersionTest {
  private static final Instant NOW = Instant.parse("2026-04-10T12:00:00Z");

  @ParameterizedTest
  @CsvSource({
    "2026-03-01T10:00:00Z, 2026-03-01T10:00:00Z, DUPLICATE",
    "2026-03-01T10:00:00.0004Z, 2026-03-01T10:00:00.000Z, DUPLICATE",
    "2026-03-01T10:00:00.5Z, 2026-03-01T10:00:00.500999Z, DUPLICATE",
    "2026-03-01T10:00:00Z, 2026-03-01T10:00:00-00:00, DUPLICATE",
    "2026-03-01T10:00:00Z, 2026-03-01t10:00:00z, DUPLICATE",
    "2026-03-01T10:00:00+00:00, 2026-03-01T10:00:00.0Z, DUPLICATE",
    "2026-03-01T10:00:00+01:00, 2026-03-01T10:00:00.0+01:00, DUPLICATE",
    "2026-03-01T10:00:60Z, 2026-03-01T10:01:00Z, DUPLICATE",
    "2026-03-01T10:00:00.001Z, 2026-03-01T10:00:00Z, CONFLICT",
    "2026-03-01T10:00:00Z, 2026-03-01T11:00:00+01:00, CONFLICT",
    "2026-03-01T10:00:00Z, 2026-03-01T10:00:00+01:00, CONFLICT",
  })
  void times_are_compared_as_they_are_read(String first, String second, Outcome outcome) {
    assertThat(
            twice(
                urine(first, "2026-03-01T04:00:00Z", 1), urine(second, "2026-03-01T04:00:00Z", 1)))
        .isEqualTo(outcome);
    assertThat(
            twice(
                urine("2026-03-02T00:00:00Z", first, 1), urine("2026-03-02T00:00:00Z", second, 1)))
        .isEqualTo(outcome);
    assertThat(twice(exchange(first, "a"), exchange(second, "a"))).isEqualTo(outcome);
  }

  /** What looks like a time and is none is compared as the text that it is. */
  @ParameterizedTest
  @CsvSource({"1, 1, DUPLICATE", "1, 2, CONFLICT"})
  void all_else_has_to_be_the_same(int first, int second, Outcome outcome) {
    String at = "2026-03-02T10:00:00Z";
    assertThat(
            twice(
                urine(at, "2026-03-02T04:00:00Z", first),
                urine(at, "2026-03-02T04:00:00z", second)))
        .isEqualTo(outcome);
    assertThat(twice(exchange(at, "2026-03-01T10:00:00Z"), exchange(at, "2026-03-01T10:00:00z")))
        .isEqualTo(Outcome.CONFLICT);
  }

  private static Outcome twice(String first, String second) {
    try (ClinicalStore store = new MemoryStore()) {
      assertThat(take(store, first).outcome()).isEqualTo(Outcome.RECORDED);
      EventResult result = take(store, second);
      return result.outcome();
    }
  }

  private static EventResult take(ClinicalStore store, String body) {
    return new RecordEvents(store, SharedValidator.WARM, new MappingContext(ZoneOffset.UTC))
        .record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
  }

  private static String urine(String at, String from, int millilitres) {
    return event(
        "urine-measured", at, "\"from\":\"%s\",\"volumeMl\":%d".formatted(from, millilitres));
  }

  private static String exchange(String surgeryEndedAt, String material) {
    return event(
        "catheter-exchanged",
        "2026-03-05T10:00:00Z",
        """
        "catheterId":"c1","replacement":{"catheterId":"c2","route":"urethral","sizeCh":14,\
        "indication":"perioperative","surgeryEndedAt":"%s","material":"%s"}"""
            .formatted(surgeryEndedAt, material));
  }

  private static String event(String type, String at, String details) {
    return """
        {"source":"s","eventId":"e","type":"%s","occurredAt":"%s",\
        "patient":{"system":"urn:p","value":"P"},"details":{%s}}"""
        .formatted(type, at, details);
  }
}
