package indwell.web.ward;

import static org.assertj.core.api.Assertions.assertThat;

import io.quarkus.test.common.http.TestHTTPResource;
import io.quarkus.test.junit.QuarkusTest;
import io.quarkus.test.junit.QuarkusTestProfile;
import io.quarkus.test.junit.TestProfile;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The page within the whole service, over the demo ward. */
@QuarkusTest
@TestProfile(WardPageTest.DemoWard.class)
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardPageTest {
  @TestHTTPResource("/")
  URI root;

  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();

  /** An empty folder for data, filled with the demo ward. */
  public static final class DemoWard implements QuarkusTestProfile {
    @Override
    public Map<String, String> getConfigOverrides() {
      try {
        return Map.of(
            "indwell.data-dir",
            Files.createTempDirectory("indwell-page-").toString(),
            "indwell.demo",
            "true");
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }

  @BeforeEach
  void waitUntilReady() {
    Awaitility.await()
        .atMost(Duration.ofSeconds(90))
        .until(() -> get("q/health/ready").statusCode() == 200);
  }

  private HttpResponse<String> get(String path) throws Exception {
    return client.send(HttpRequest.newBuilder(root.resolve(path)).build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String body) throws Exception {
    return client.send(
        HttpRequest.newBuilder(root.resolve("events"))
            .header("Content-Type", "application/json")
            .POST(BodyPublishers.ofString(body))
            .build(),
        BodyHandlers.ofString());
  }

  @Test
  void the_page_shows_what_needs_a_hand_first() throws Exception {
    HttpResponse<String> page = get("");
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body()).contains("As of", "(UTC)", "clinical judgement", "Nothing due");
    assertThat(page.body().indexOf("<tr class=\"due\">"))
        .isPositive()
        .isLessThan(page.body().indexOf("Nothing due"));
  }

  @Test
  void each_thing_that_is_due_says_why() throws Exception {
    String page = get("").body();

    assertThat(page.split("<li><b><span", -1))
        .hasSameSizeAs(page.split("<summary>Rule and facts", -1));
    assertThat(page)
        .containsPattern("Rule FLAG-[A-Z-]+\\. Source: [^<]+\\. From the record: [^<]+:[^<]+\\.");
    assertThat(page).containsPattern("title=\"Calendar days in place; day 1 is the date of event ");
  }

  @Test
  void no_script_runs_and_no_cache_keeps_the_page() throws Exception {
    HttpResponse<String> page = get("");
    assertThat(page.headers().firstValue("Content-Security-Policy"))
        .hasValueSatisfying(
            policy ->
                assertThat(policy).contains("default-src 'none'").doesNotContain("unsafe-inline"));
    assertThat(page.headers().firstValue("Cache-Control")).hasValue("no-store");
    assertThat(page.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
    assertThat(page.headers().firstValue("Referrer-Policy")).hasValue("no-referrer");
    assertThat(page.body()).doesNotContain("<script", "style=\"");
    assertThat(get("ward.css").headers().firstValue("Content-Type"))
        .hasValue("text/css; charset=utf-8");
  }

  @Test
  void what_a_sender_wrote_is_text_and_never_markup() throws Exception {
    String inserted =
        ("{\"source\":\"t\",\"eventId\":\"x1\",\"type\":\"catheter-inserted\",\"occurredAt\":\"%s\","
                + "\"patient\":{\"system\":\"urn:t:mrn\",\"value\":\"<script>alert(1)</script>\"},"
                + "\"encounter\":{\"system\":\"urn:t:stay\",\"value\":\"s\"},"
                + "\"details\":{\"catheterId\":\"c\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"other\",\"indicationText\":\"<b>\\\"bold\\\"</b>\"}}")
            .formatted(Instant.now().minusSeconds(60));
    assertThat(post(inserted).statusCode()).isEqualTo(201);
    String page = get("").body();
    assertThat(page).contains("&lt;script&gt;alert(1)&lt;/script&gt;", "&lt;b&gt;");
    assertThat(page).doesNotContain("<script", "<b>\"bold");
  }

  @Test
  void one_ward_can_be_chosen_and_an_empty_one_says_so() throws Exception {
    assertThat(get("?ward=nowhere-1").body())
        .contains("Nobody here has a catheter on record.", ", nowhere-1");
    assertThat(get("?ward=%3Cscript%3E").body()).doesNotContain("<script");
  }

  @Test
  void the_page_can_be_read_only() throws Exception {
    HttpResponse<String> answer =
        client.send(
            HttpRequest.newBuilder(root).POST(BodyPublishers.noBody()).build(),
            BodyHandlers.ofString());
    assertThat(answer.statusCode()).isEqualTo(405);
    assertThat(answer.headers().firstValue("Allow")).hasValue("GET, HEAD");
  }
}
