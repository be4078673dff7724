package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What counts as a token, and that none is repeated. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirTokensTest {
  private static GuardedFhir guarded;
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    guarded = new GuardedFhir();
    server = guarded.server();
  }

  @AfterAll
  static void stop() throws Exception {
    guarded.close();
  }

  @Test
  void the_capability_statement_says_that_tokens_are_asked_for() throws Exception {
    assertThat(server.ask("GET", "/metadata", "").body())
        .contains("\"security\":{\"cors\":false", "\"SMART-on-FHIR\"");
  }

  @Test
  void no_answer_repeats_a_token() throws Exception {
    String forged = guarded.bearer("client-7", "system/Patient.rs") + "x";
    HttpResponse<String> answer = server.ask("GET", "/Patient/x", "", "Authorization", forged);

    assertThat(answer.statusCode()).isEqualTo(401);
    assertThat(answer.headers().firstValue("WWW-Authenticate"))
        .contains("Bearer realm=\"indwell\", error=\"invalid_token\"");
    assertThat(answer.body() + answer.headers().map()).doesNotContain(forged.substring(7, 60));
  }

  @Test
  void two_headers_an_address_and_another_scheme_bring_no_token() throws Exception {
    String token = guarded.bearer("client-7", "system/*.cruds");
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", token, "Authorization", token)
                .statusCode())
        .isEqualTo(401);
    assertThat(server.ask("GET", "/Patient/x?access_token=" + token.substring(7), "").statusCode())
        .isEqualTo(401);
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", "Basic " + token.substring(7))
                .statusCode())
        .isEqualTo(401);
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", "bEARER " + token.substring(7))
                .statusCode())
        .isEqualTo(404);
  }

  /**
   * Weaknesses of path policies; here the decision is at the interaction, however it is written.
   */
  @Test
  void an_address_that_is_written_otherwise_is_not_open() throws Exception {
    for (String path :
        List.of(
            "/Patient;x",
            "/Patient%2Fx",
            "/%50atient/x",
            "/metadata/../Patient",
            "/metadata;/../Patient",
            "//Patient")) {
      assertThat(server.ask("GET", path, "").statusCode()).as(path).isIn(401, 404);
    }
  }
}
