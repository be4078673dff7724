package indwell.web.page;

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
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.awaitility.Awaitility;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The pages within the whole service, over the demo ward: every link on them leads somewhere. */
@QuarkusTest
@TestProfile(PagesInServiceTest.DemoWard.class)
@DisplayNameGeneration(ReplaceUnderscores.class)
class PagesInServiceTest {
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

  /** From page to page as a reader would, up to so many addresses. */
  @Test
  void every_link_leads_somewhere() throws Exception {
    Set<String> seen = new LinkedHashSet<>();
    Deque<String> next = new ArrayDeque<>(List.of(root.toString()));
    while (!next.isEmpty() && seen.size() < 150) {
      String address = next.remove();
      if (seen.add(address)) {
        HttpResponse<String> answer = get(address);
        assertThat(answer.statusCode()).as(address).isEqualTo(200);
        if (answer.headers().firstValue("Content-Type").orElse("").startsWith("text/html")) {
          for (Element link : Jsoup.parse(answer.body(), address).select("[href]")) {
            next.add(link.absUrl("href").replaceFirst("#.*", ""));
          }
        }
      }
    }

    assertThat(seen).anyMatch(address -> address.contains("/patients/"));
    assertThat(seen).anyMatch(address -> address.contains("/insertions/"));
    assertThat(seen).anyMatch(address -> address.endsWith("/report"));
    assertThat(seen).anyMatch(address -> address.contains("/fhir/$overdue"));
  }
}
