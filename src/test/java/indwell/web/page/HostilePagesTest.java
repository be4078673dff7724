package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.RawHttp;
import java.net.URI;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Hostile forms and addresses of the pages. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HostilePagesTest {
  private static PagesServer server;

  @BeforeAll
  static void start() throws Exception {
    server = new PagesServer();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static String code(String page) {
    return Jsoup.parse(page).select("[data-code]").text();
  }

  private static RawHttp.Answer form(String path, String body) throws Exception {
    try (RawHttp http = new RawHttp(URI.create(server.base()).getPort())) {
      return http.send(
              "POST "
                  + path
                  + " HTTP/1.1\r\nHost: localhost\r\n"
                  + "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: "
                  + body.length()
                  + "\r\n\r\n"
                  + body)
          .answer();
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"/wards/A-1/record", "/record", "/wards/A-1/take-back", "/recorder"})
  void a_form_that_cannot_be_decoded_is_refused(String path) throws Exception {
    for (String body : List.of("act=a%00", "%00=a", "act=%", "act=%zz", "act=%e")) {
      RawHttp.Answer answer = form(path, body);
      assertThat(answer.status()).as(path + " " + body).isEqualTo(400);
      assertThat(code(answer.body())).isEqualTo("IND-0104");
      assertThat(answer.body()).contains("; expected percent-encoded UTF-8");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"/wards/A-1/record", "/record", "/wards/A-1/take-back", "/recorder"})
  void a_form_of_more_than_16_KiB_is_refused(String path) throws Exception {
    RawHttp.Answer answer = form(path, "a=" + "x".repeat(16 * 1024));
    assertThat(answer.status()).isEqualTo(413);
    assertThat(code(answer.body())).isEqualTo("IND-0004");
  }

  @Test
  void a_form_of_thousands_of_fields_is_refused_for_what_it_lacks() throws Exception {
    List<String[]> fields = new ArrayList<>();
    for (int i = 0; i < 1_500; i++) {
      fields.add(new String[] {"f" + i, ""});
    }
    HttpResponse<String> answer =
        server.form("/record", fields, "Origin", server.base(), "Sec-Fetch-Site", "same-origin");
    assertThat(answer.statusCode()).isBetween(400, 499);
    assertThat(code(answer.body())).startsWith("IND-");
  }

  @ParameterizedTest
  @CsvSource({
    "/wards/a%00, 404, IND-0100",
    "/patients/a%00, 404, IND-0100",
    "/insertions/a%00, 404, IND-0100",
    "/wards/..%2f..%2fetc%2fpasswd, 404, IND-0100",
    "/?ward=a%00, 400, IND-0104",
    "/?colour=a, 400, IND-0103",
    "/wards/A-1?within=99999999999999999999, 400, IND-0104",
    "/report?month=99999-99, 400, IND-0220"
  })
  void an_address_that_cannot_be_is_refused_on_a_page(String path, int status, String code)
      throws Exception {
    HttpResponse<String> answer = server.get(path);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(code(answer.body())).isEqualTo(code);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/wards/%3Cscript%3Ealert(1)%3C%2Fscript%3E",
        "/patients/%3Cscript%3Ealert(1)%3C%2Fscript%3E",
        "/?%3Cscript%3Ealert(1)%3C%2Fscript%3E=1",
        "/wards/A-1?within=%22%3E%3Cscript%3Ealert(1)%3C%2Fscript%3E"
      })
  void what_an_address_says_never_becomes_a_part_of_the_page(String path) throws Exception {
    HttpResponse<String> answer = server.get(path);
    assertThat(answer.statusCode()).isBetween(400, 499);
    assertThat(answer.body()).doesNotContain("<script>alert");
  }
}
