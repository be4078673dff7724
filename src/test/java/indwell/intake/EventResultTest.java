package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.EventType;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class EventResultTest {
  private static final EventResult RECORDED =
      EventResult.of(
          Samples.accept(Samples.event(EventType.WEIGHT_MEASURED)).version(),
          Outcome.RECORDED,
          List.of("Patient/a", "Observation/b"),
          List.of(Issue.warning(IssueCode.SUPERSEDED, "", "A \"quoted\" sentence.")));

  @Test
  void writes_its_fields_in_order() {
    assertThat(text(EventResultJson.object(RECORDED)))
        .isEqualTo(
            "{\"source\":\"tablet\",\"eventId\":\"e1\",\"version\":1,\"outcome\":\"recorded\","
                + "\"resources\":[\"Patient/a\",\"Observation/b\"],"
                + "\"issues\":[{\"severity\":\"warning\",\"code\":\"IND-0031\","
                + "\"diagnostics\":\"A \\\"quoted\\\" sentence.\",\"expression\":\"\"}]}");
  }

  @Test
  void writes_its_place_first_and_leaves_out_what_could_not_be_read() {
    EventResult refused =
        EventResult.refused(Issue.error(IssueCode.NOT_AN_OBJECT, "", "Sentence."));
    assertThat(text(EventResultJson.line(refused.at(3))))
        .isEqualTo(
            "{\"index\":3,\"outcome\":\"refused\",\"resources\":[],"
                + "\"issues\":[{\"severity\":\"error\",\"code\":\"IND-0009\","
                + "\"diagnostics\":\"Sentence.\",\"expression\":\"\"}]}\n");
    assertThat(text(EventResultJson.array(List.of()))).isEqualTo("[]");
    assertThat(text(EventResultJson.array(List.of(RECORDED.at(1), refused.at(2)))))
        .startsWith("[{\"index\":1,")
        .contains("},{\"index\":2,")
        .endsWith("]");
  }

  @Test
  void writes_characters_of_every_kind_as_they_are() {
    Issue issue = Issue.error(IssueCode.MALFORMED_TEXT, "a.é", "Text \"\ud83d\ude00\" … ±.");
    assertThat(
            Samples.tree(text(EventResultJson.object(EventResult.refused(issue))))
                .at("/issues/0/diagnostics")
                .textValue())
        .isEqualTo(issue.diagnostics());
  }

  /** Source: the contract's table of outcomes. */
  @ParameterizedTest
  @CsvSource({
    "RECORDED, SUPERSEDED, 201",
    "DUPLICATE, SUPERSEDED, 200",
    "CONFLICT, VERSION_CONFLICT, 409",
    "SUPERSEDED, SUPERSEDED, 200",
    "REFUSED, UNKNOWN_FIELD, 422",
    "REFUSED, NESTED_TOO_DEEP, 422",
    "REFUSED, ABSURD_NUMBER, 422",
    "REFUSED, MALFORMED_JSON, 400",
    "REFUSED, DUPLICATE_NAME, 400",
    "REFUSED, NOT_AN_EVENT_BODY, 400",
    "REFUSED, TOO_LARGE, 413",
    "REFUSED, TOO_MANY_EVENTS, 413",
    "REFUSED, MEDIA_TYPE, 415",
    "FAILED, INTERNAL, 500",
    "FAILED, PROFILE_VIOLATED, 500",
    "FAILED, STORE_UNAVAILABLE, 503",
    "FAILED, BUSY, 503",
  })
  void has_the_status_of_a_single_event(Outcome outcome, IssueCode code, int status) {
    EventResult result =
        new EventResult(
            RECORDED.index(),
            RECORDED.source(),
            RECORDED.eventId(),
            RECORDED.version(),
            outcome,
            List.of(),
            List.of(Issue.error(code, "", "Sentence.")));
    assertThat(result.status()).isEqualTo(status);
  }

  private static String text(byte[] bytes) {
    return new String(bytes, StandardCharsets.UTF_8);
  }
}
