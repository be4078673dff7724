package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Broken bodies of our own devising: each gets the promised status, a code, and a sentence that
 * names the value and what was expected; and the log says nothing of any patient.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class BrokenBodiesIT {
  private static final String SECRET = "canary-4711";
  @TempDir static Path data;
  private static RunningService service;

  @BeforeAll
  static void start() throws Exception {
    service = RunningService.start(Map.of("INDWELL_DATA_DIR", data.toString()));
  }

  @AfterAll
  static void the_log_says_nothing_of_any_patient() throws Exception {
    service.close();
    assertThat(service.log())
        .doesNotContain(SECRET)
        .doesNotContain("2026-03-01T08")
        .doesNotContain("Exception");
  }

  /** The body of a good insertion, in which one text is replaced by another. */
  private static String broken(String good, String bad) {
    String body =
        Events.insertion("b1", "C-1", "2026-03-01T08:00:00+01:00")
            .replace("P-1", SECRET)
            .replace("\"version\"", "");
    assertThat(body).contains(good);
    return body.replace(good, bad);
  }

  @ParameterizedTest(name = "{0} as {1}")
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      value = {
        "\"sizeCh\":16 | \"sizeCh\":31 | 422 | IND-0015 | 31 Ch | 6 to 30 Ch",
        "\"sizeCh\":16 | \"sizeCh\":16.5 | 422 | IND-0012 | 16.5 | whole number",
        "\"sizeCh\":16 | \"sizeCh\":\"16\" | 422 | IND-0012 | 16 | whole number",
        "\"sizeCh\":16 | \"sizeCh\":1e1000000 | 422 | IND-0008 | 1e1000000 | 40",
        "\"sizeCh\":16 | \"sizeCh\":NaN | 400 | IND-0001 | line 1, column | JSON",
        "\"sizeCh\":16 | \"sizeCh\":16,\"sizeCh\":18 | 400 | IND-0002 | sizeCh | once",
        "\"balloonFilledMl\":10 | \"balloonFilledMl\":450 | 422 | IND-0015 | 450 mL | 0 to 100 mL",
        "\"urineReturnedMl\":450 | \"urineReturnedMl\":-1 | 422 | IND-0015 | -1 mL | 0 to 20000 mL",
        "\"route\":\"urethral\" | \"route\":\"oral\" | 422 | IND-0014 | oral | urethral",
        "\"acute-retention\" | \"other\" | 422 | IND-0011 | indicationText | text",
        "\"acute-retention\" | \"because\" | 422 | IND-0014 | because | acute-retention",
        "\"hand-hygiene\":\"done\" | \"hand-hygiene\":\"yes\" | 422 | IND-0014 | yes | not-done",
        "\"hand-hygiene\":\"done\" | \"hand-washing\":\"done\" | 422 | IND-0014 | hand-washing | hand-hygiene",
        "2026-03-01T08:00:00+01:00 | 2026-03-01T08:00:00 | 422 | IND-0016 | 2026-03-01T08:00:00 | offset",
        "2026-03-01T08:00:00+01:00 | 2026-02-30T08:00:00Z | 422 | IND-0016 | 2026-02-30 | RFC 3339",
        "2026-03-01T08:00:00+01:00 | 1999-12-31T23:59:59Z | 422 | IND-0017 | 1999 | 2000-01-01",
        "2026-03-01T08:00:00+01:00 | 2999-01-01T00:00:00Z | 422 | IND-0017 | 2999 | 5 minutes",
        "https://blackbox.example/patient | not a uri | 422 | IND-0019 | not a uri | absolute URI",
        "\"source\":\"blackbox\" | \"source\":\"black box\" | 422 | IND-0013 | black box | A-Z",
        "\"catheterId\":\"C-1\" | \"catheterId\":\"C-1 \" | 422 | IND-0013 | C-1 | white space",
        "\"catheterId\":\"C-1\" | \"catheterID\":\"C-1\" | 422 | IND-0010 | catheterID | catheterId",
        "\"catheter-inserted\" | \"catheter-insertion\" | 422 | IND-0014 | catheter-insertion | catheter-inserted",
        "\"details\":{ | \"details\":[{ | 400 | IND-0001 | } | JSON",
        "\"details\":{ | \"details\":null,\"more\":{ | 422 | IND-0012 | null | object",
      })
  void a_broken_body_is_refused_by_name(
      String good, String bad, int status, String code, String names, String expected)
      throws Exception {
    HttpResponse<String> answer = service.postEvent(broken(good, bad));
    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(answer.body())
        .contains("\"outcome\":\"refused\"")
        .contains("\"code\":\"" + code + "\"")
        .contains("xpected");
    assertThat(answer.body().replace("\\\"", "\"")).contains(names).contains(expected);
  }

  @Test
  void bytes_that_are_no_utf_8_are_400() throws Exception {
    byte[] body = broken("C-1", "C-\u00e9").getBytes(StandardCharsets.ISO_8859_1);
    assertRefused(service.post("/events", "application/json", body), 400, "IND-0001");
  }

  @Test
  void a_body_that_is_neither_object_nor_array_is_400() throws Exception {
    assertRefused(service.postEvent("\"" + SECRET + "\""), 400, "IND-0003");
  }

  @Test
  void an_empty_body_is_400() throws Exception {
    assertRefused(service.postEvent(""), 400, "IND-0001");
  }

  @Test
  void an_empty_object_is_422() throws Exception {
    assertRefused(service.postEvent("{}"), 422, "IND-0011");
  }

  @Test
  void another_media_type_is_415() throws Exception {
    assertRefused(service.post("/events", "text/plain", broken("C-1", "C-1")), 415, "IND-0006");
  }

  @Test
  void more_than_a_thousand_events_in_an_array_are_413() throws Exception {
    String thousandAndOne = "[" + "{},".repeat(1000) + "{}]";
    assertRefused(service.postEvent(thousandAndOne), 413, "IND-0005");
  }

  @Test
  void an_event_of_more_than_64_KiB_is_413() throws Exception {
    assertRefused(service.postEvent(broken("C-1", "C".repeat(65 * 1024))), 413, "IND-0004");
  }

  @Test
  void deep_nesting_in_an_array_is_400() throws Exception {
    assertRefused(service.postEvent("[".repeat(100_000) + "]".repeat(100_000)), 400, "IND-0007");
  }

  private static void assertRefused(HttpResponse<String> answer, int status, String code) {
    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(answer.body())
        .contains("\"outcome\":\"refused\"")
        .contains("\"code\":\"" + code + "\"")
        .contains("xpected");
  }
}
