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
import java.util.Map;
import org.awaitility.Awaitility;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
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

  @Test
  void every_link_of_the_ward_page_leads_somewhere() throws Exception {
    Document page = Jsoup.parse(get("").body(), root.toString());
    assertThat(page.select("li.catheter")).hasSizeGreaterThan(9);

    for (Element link : page.select("a[href], link[href]")) {
      assertThat(get(link.absUrl("href").replaceFirst("#.*", "")).statusCode())
          .as(link.outerHtml())
          .isEqualTo(200);
    }
  }
}
