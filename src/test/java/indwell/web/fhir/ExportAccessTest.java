package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Whose an export is, and what is in it for the scopes of its token. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportAccessTest {
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

  /** The path of its status. */
  private static String begin(String path, String authorization) throws Exception {
    HttpResponse<String> ordered = server.ask("GET", path, "", "Authorization", authorization);
    assertThat(ordered.statusCode()).isEqualTo(202);
    return ordered
        .headers()
        .firstValue("Content-Location")
        .orElseThrow()
        .substring(server.base().length());
  }

  /** Waits until the export is finished. */
  private static String manifest(String status, String authorization) {
    return Awaitility.await()
        .atMost(Duration.ofSeconds(30))
        .pollInterval(Duration.ofMillis(5))
        .until(
            () -> {
              server.advance(Duration.ofSeconds(2));
              return server.ask("GET", status, "", "Authorization", authorization);
            },
            answer -> answer.statusCode() == 200)
        .body();
  }

  @Test
  void an_export_is_there_for_its_client_alone() throws Exception {
    String all = "system/*.rs";
    String owner = guarded.bearer("client-a", all);
    String status = begin("/$export?_type=Patient", owner);
    String manifest = manifest(status, owner);
    Matcher file = Pattern.compile("\"url\":\"([^\"]+Patient[^\"]*)\"").matcher(manifest);
    assertThat(file.find()).as(manifest).isTrue();
    String path = file.group(1).substring(server.base().length());

    String other = guarded.bearer("client-b", all);
    for (String[] one : new String[][] {{"GET", status}, {"GET", path}, {"DELETE", status}}) {
      assertThat(server.ask(one[0], one[1], "", "Authorization", other).statusCode())
          .as(one[0] + one[1])
          .isEqualTo(404);
    }
    String narrow = guarded.bearer("client-a", "system/Device.rs");
    assertThat(server.ask("GET", path, "", "Authorization", narrow).statusCode()).isEqualTo(403);
    assertThat(server.ask("GET", path, "", "Authorization", owner).statusCode()).isEqualTo(200);
    assertThat(server.ask("DELETE", status, "", "Authorization", owner).statusCode())
        .isEqualTo(202);
  }

  /** Source: https://hl7.org/fhir/uv/bulkdata/STU3/export.html#response---output-manifest */
  @Test
  void the_manifest_says_that_files_need_a_token_and_they_do() throws Exception {
    String owner = guarded.bearer("client-d", "system/*.rs");
    String manifest = manifest(begin("/$export?_type=Patient", owner), owner);
    Matcher file = Pattern.compile("\"url\":\"([^\"]+Patient[^\"]*)\"").matcher(manifest);
    assertThat(file.find()).as(manifest).isTrue();

    assertThat(manifest).contains("\"requiresAccessToken\":true");
    assertThat(server.get(file.group(1).substring(server.base().length())).statusCode())
        .isEqualTo(401);
  }

  @Test
  void an_export_without_types_gives_those_of_the_token() throws Exception {
    String status =
        begin("/$export", guarded.bearer("client-c", "system/Patient.rs system/Device.r"));
    String manifest = manifest(status, guarded.bearer("client-c", "system/Patient.rs"));

    assertThat(
            Pattern.compile("\"type\":\"(\\w+)\"")
                .matcher(manifest)
                .results()
                .map(one -> one.group(1)))
        .containsExactly("Patient");
  }
}
