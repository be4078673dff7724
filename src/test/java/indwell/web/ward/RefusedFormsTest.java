package indwell.web.ward;

import static indwell.web.ward.WardForms.code;
import static indwell.web.ward.WardForms.fields;
import static indwell.web.ward.WardForms.formOf;
import static indwell.web.ward.WardForms.with;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.page.Bedside;
import indwell.web.page.FormSeal;
import indwell.web.page.PagesServer;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Forms of the ward page that record nothing. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RefusedFormsTest {
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

  @ParameterizedTest
  @CsvSource(
      nullValues = "none",
      value = {
        "http://evil.example, none",
        "null, none",
        "none, cross-site",
        "none, same-site",
        "none, none",
        "http://evil.example, same-origin"
      })
  void a_form_from_elsewhere_is_refused(String origin, String site) throws Exception {
    Element form = formOf(forms.ward(), "still-needed");
    List<String> headers = new ArrayList<>(List.of("Cookie", forms.cookies()));
    if (origin != null) {
      headers.addAll(List.of("Origin", origin));
    }
    if (site != null) {
      headers.addAll(List.of("Sec-Fetch-Site", site));
    }

    HttpResponse<String> answer =
        server.form(
            form.attr("action"), fields(form, "still-needed"), headers.toArray(String[]::new));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(code(answer)).isEqualTo("IND-0360");
    assertThat(forms.recorded()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"number, 0123456789abcdef0", "issued, 1", "seal, x", "catheter, c2", "patient, p"})
  void a_form_that_was_changed_is_refused(String field, String value) throws Exception {
    Element form = formOf(forms.ward(), "still-needed");

    HttpResponse<String> answer =
        forms.send(form, with(fields(form, "still-needed"), field, value));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(code(answer)).isEqualTo("IND-0361");
    assertThat(forms.recorded()).isEmpty();
  }

  @Test
  void a_form_of_another_browser_or_of_the_last_shift_is_refused() throws Exception {
    Element form = formOf(forms.ward(), "still-needed");
    List<String[]> fields = fields(form, "still-needed");
    HttpResponse<String> other =
        server.form(
            form.attr("action"),
            fields,
            "Origin",
            server.base(),
            "Cookie",
            "indwell-browser=0123456789abcdef; indwell-recorder=N-204");
    server.advance(FormSeal.GOOD_FOR);
    HttpResponse<String> old = forms.send(form, fields);

    assertThat(List.of(code(other), code(old))).containsOnly("IND-0361");
    assertThat(forms.recorded()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "act, dance, 400, IND-0362",
    "act, '', 400, IND-0362",
    "number, '', 400, IND-0362",
    "indication, because, 400, IND-0362",
    "indication, other, 422, IND-0011"
  })
  void a_form_that_cannot_be_so_is_refused_by_name(
      String field, String value, int status, String code) throws Exception {
    Element form = formOf(forms.ward(), "still-needed");

    HttpResponse<String> answer =
        forms.send(form, with(fields(form, "still-needed"), field, value));

    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(code(answer)).isEqualTo(code);
    assertThat(forms.recorded()).isEmpty();
  }

  @Test
  void nothing_is_recorded_of_a_catheter_that_is_out() throws Exception {
    Document page = forms.ward();
    server.record(
        Bedside.event(
            "out", "P-1", "catheter-removed", "2026-03-10T11:59:00Z", "\"catheterId\":\"c1\""));

    HttpResponse<String> answer = forms.press(page, "care-checked");

    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(code(answer)).isEqualTo("IND-0364");
    assertThat(forms.recorded()).isEmpty();
  }

  @Test
  void without_a_recorder_nothing_is_recorded() throws Exception {
    Element form = formOf(forms.ward(), "care-checked");

    HttpResponse<String> answer =
        server.form(
            form.attr("action"),
            fields(form, "care-checked"),
            "Origin",
            server.base(),
            "Cookie",
            forms.browser());

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(code(answer)).isEqualTo("IND-0363");
  }

  @Test
  void a_form_is_sent_as_a_form_and_by_post() throws Exception {
    assertThat(server.get("/record").statusCode()).isEqualTo(405);
    assertThat(server.send("POST", "/record").statusCode()).isEqualTo(415);
    assertThat(
            server
                .form("/record", List.<String[]>of(new String[] {"x", "y".repeat(20_000)}))
                .statusCode())
        .isEqualTo(413);
  }
}
