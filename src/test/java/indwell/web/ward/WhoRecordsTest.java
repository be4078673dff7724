package indwell.web.ward;

import static indwell.web.ward.WardForms.code;
import static indwell.web.ward.WardForms.fields;
import static indwell.web.ward.WardForms.with;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BusinessId;
import indwell.web.page.Bedside;
import indwell.web.page.PageRequest;
import indwell.web.page.PagesServer;
import indwell.web.page.Recorders;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Who is said to have recorded what comes from the ward page. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WhoRecordsTest {
  private WardForms forms;
  private PagesServer server;

  @BeforeEach
  void open() throws Exception {
    forms = new WardForms();
    server = forms.server();
  }

  @AfterEach
  void close() throws Exception {
    forms.close();
  }

  @Test
  void who_records_is_asked_once_and_kept_in_the_browser() throws Exception {
    Document page = server.page("/wards/A-1", "Cookie", forms.browser());
    assertThat(page.select("button[name=act]")).isEmpty();
    assertThat(page.select(".recorder").text()).contains("Nobody has logged in");
    Element form = page.selectFirst(".recorder form");
    List<String[]> fields = with(fields(form, ""), "staffNumber", "N-77");

    HttpResponse<String> answer = forms.send(form, fields);
    HttpResponse<String> hostile = forms.send(form, with(fields, "staffNumber", "a; Path=/x"));

    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(answer.headers().firstValue("Set-Cookie").orElseThrow())
        .startsWith("indwell-recorder=N-77; ")
        .contains("HttpOnly", "SameSite=Strict", "Max-Age=43200");
    assertThat(code(hostile)).isEqualTo("IND-0362");
    assertThat(
            server
                .page("/wards/A-1", "Cookie", forms.browser() + "; indwell-recorder=N-77")
                .select(".recorder summary")
                .text())
        .isEqualTo("Recording as N-77");
  }

  @Test
  void a_login_takes_the_place_of_what_is_typed_in() throws Exception {
    Recorders login =
        new Recorders() {
          @Override
          public Optional<BusinessId> of(PageRequest request) {
            return Optional.of(new BusinessId("https://login.example/staff", "N-5"));
          }

          @Override
          public boolean verified() {
            return true;
          }
        };
    try (PagesServer behind = new PagesServer(0, login)) {
      behind.record(
          Bedside.withCatheter("P-1", "A-1", PagesServer.NOW.minus(Duration.ofHours(30)))
              .toArray(String[]::new));

      Document page = behind.page("/wards/A-1", "Cookie", "indwell-recorder=N-204");

      assertThat(page.select(".recorder").text()).isEqualTo("Recording as N-5");
      assertThat(page.select("form[action*=recorder]")).isEmpty();
      assertThat(page.select("button[name=act]")).isNotEmpty();
    }
  }
}
