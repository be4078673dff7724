package indwell.web.ward;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore.Reading;
import indwell.port.StoredEvent;
import indwell.web.page.Bedside;
import indwell.web.page.FormSeal;
import indwell.web.page.PageRequest;
import indwell.web.page.PagesServer;
import indwell.web.page.Recorders;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a nurse records from the ward page, as a browser without scripts sends it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RecordingTest {
  private PagesServer server;
  private String browser;

  @BeforeEach
  void open() throws Exception {
    server = new PagesServer();
    server.record(
        Bedside.withCatheter("P-1", "A-1", PagesServer.NOW.minus(Duration.ofHours(30)))
            .toArray(String[]::new));
    browser =
        server.get("/").headers().firstValue("Set-Cookie").orElseThrow().replaceFirst(";.*", "");
  }

  @AfterEach
  void close() throws Exception {
    server.close();
  }

  private String cookies() {
    return browser + "; indwell-recorder=N-204";
  }

  private Document ward() throws Exception {
    return server.page("/wards/A-1", "Cookie", cookies());
  }

  /** The form with that button, as it stands. */
  private static Element formOf(Document page, String act) {
    return page.selectFirst("button[value=" + act + "]").closest("form");
  }

  private static List<String[]> fields(Element form, String act) {
    List<String[]> fields = new ArrayList<>();
    for (Element field : form.select("input")) {
      boolean box = field.attr("type").equals("checkbox");
      if (!box || field.hasAttr("checked")) {
        fields.add(new String[] {field.attr("name"), field.attr("value")});
      }
    }
    for (Element select : form.select("select")) {
      fields.add(new String[] {select.attr("name"), select.selectFirst("option[selected]").val()});
    }
    fields.add(new String[] {"act", act});
    return fields;
  }

  private static List<String[]> with(List<String[]> fields, String name, String value) {
    List<String[]> changed =
        new ArrayList<>(fields.stream().filter(field -> !field[0].equals(name)).toList());
    changed.add(new String[] {name, value});
    return changed;
  }

  private HttpResponse<String> send(Element form, List<String[]> fields) throws Exception {
    return server.form(
        form.attr("action"),
        fields,
        "Origin",
        server.base(),
        "Sec-Fetch-Site",
        "same-origin",
        "Cookie",
        cookies());
  }

  private HttpResponse<String> press(Document page, String act) throws Exception {
    Element form = formOf(page, act);
    return send(form, fields(form, act));
  }

  /** Everything that the ward page recorded: all versions, as they are kept. */
  private List<StoredEvent> recorded() {
    return server
        .store()
        .read(
            state ->
                state
                    .search(
                        new indwell.port.ResourceQuery(
                            "Provenance",
                            java.util.Set.of(),
                            java.util.Set.of(),
                            java.util.Set.of(),
                            Optional.empty(),
                            100))
                    .stream()
                    .flatMap(one -> versions(state, one.json()).stream())
                    .toList());
  }

  private static List<StoredEvent> versions(Reading state, String provenance) {
    var found =
        java.util.regex.Pattern.compile("\"value\":\"ward-page:([^\"]+)\"").matcher(provenance);
    return found.find() ? state.versionsOf(new EventKey("ward-page", found.group(1))) : List.of();
  }

  private static String code(HttpResponse<String> answer) {
    return Jsoup.parse(answer.body()).select("[data-code]").text();
  }

  @ParameterizedTest
  @CsvSource({
    "still-needed, '\"indication\":\"acute-retention\",\"stillNeeded\":true', need-reviewed",
    "not-needed, '\"stillNeeded\":false', need-reviewed",
    "securement-changed, '\"catheterId\":\"c1\"', securement-changed",
    "care-checked, '\"meatal-hygiene\":true', care-checked"
  })
  void one_press_records_one_event_through_the_intake_of_all(
      String act, String content, String type) throws Exception {
    HttpResponse<String> answer = press(ward(), act);

    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(recorded()).hasSize(1);
    assertThat(recorded().get(0).canonical())
        .contains(content, "\"type\":\"" + type + "\"", "\"source\":\"ward-page\"")
        .contains("\"recorder\":{\"system\":\"https://indwell.example/fhir/typed-in-recorder\"")
        .contains("\"value\":\"N-204\"", "\"occurredAt\":\"2026-03-10T12:00:00");
    Document after =
        server.page(
            answer.headers().firstValue("Location").orElseThrow().replaceFirst("#.*", ""),
            "Cookie",
            cookies());
    assertThat(after.select(".told").text()).startsWith("Recorded for P-1: ").contains("N-204");
  }

  @Test
  void what_is_recorded_lifts_its_flag() throws Exception {
    assertThat(ward().select("[data-flag=care-check-overdue]")).hasSize(1);

    press(ward(), "care-checked");

    assertThat(ward().select("[data-flag=care-check-overdue]")).isEmpty();
  }

  @Test
  void pressed_twice_is_recorded_once() throws Exception {
    Document page = ward();

    HttpResponse<String> first = press(page, "still-needed");
    server.advance(Duration.ofSeconds(2));
    HttpResponse<String> second = press(page, "still-needed");

    assertThat(second.statusCode()).isEqualTo(303);
    assertThat(second.headers().firstValue("Location"))
        .isEqualTo(first.headers().firstValue("Location"));
    assertThat(recorded()).hasSize(1);
  }

  @Test
  void pressed_twice_at_one_moment_is_recorded_once() throws Exception {
    Document page = ward();
    List<CompletableFuture<Integer>> presses = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      presses.add(
          CompletableFuture.supplyAsync(
              () -> {
                try {
                  return press(page, "securement-changed").statusCode();
                } catch (Exception e) {
                  throw new IllegalStateException(e);
                }
              }));
    }

    assertThat(presses).extracting(CompletableFuture::join).containsOnly(303);
    assertThat(recorded()).hasSize(1);
  }

  @Test
  void another_answer_on_the_same_form_corrects_and_keeps_the_time() throws Exception {
    Document page = ward();
    press(page, "still-needed");
    server.advance(Duration.ofMinutes(3));

    press(page, "not-needed");

    assertThat(recorded()).hasSize(2);
    assertThat(recorded().get(1).version()).isEqualTo(2);
    assertThat(recorded().get(1).canonical())
        .contains("\"stillNeeded\":false", "\"occurredAt\":\"2026-03-10T12:00:00");
  }

  @Test
  void an_entry_is_taken_back_once_and_stays_in_the_history() throws Exception {
    HttpResponse<String> answer = press(ward(), "not-needed");
    Document told =
        server.page(
            answer.headers().firstValue("Location").orElseThrow().replaceFirst("#.*", ""),
            "Cookie",
            cookies());
    Element form = told.selectFirst(".told form");

    HttpResponse<String> back = send(form, fields(form, ""));
    HttpResponse<String> again = send(form, fields(form, ""));

    assertThat(List.of(back.statusCode(), again.statusCode())).containsOnly(303);
    assertThat(recorded()).extracting(StoredEvent::withdrawn).containsExactly(false, true);
    assertThat(ward().select("[data-flag=no-accepted-indication]")).isEmpty();
    assertThat(
            server
                .page(back.headers().firstValue("Location").orElseThrow(), "Cookie", cookies())
                .select(".told")
                .text())
        .isEqualTo("Taken back: Review of need. It stays in the history.");
  }

  @Test
  void an_unticked_box_says_that_it_was_not_in_order() throws Exception {
    Element form = formOf(ward(), "care-checked");
    List<String[]> fields =
        fields(form, "care-checked").stream()
            .filter(field -> !field[1].equals("closed-system"))
            .toList();

    send(form, fields);

    assertThat(recorded().get(0).canonical())
        .contains("\"closed-system\":false", "\"bag-off-floor\":true");
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
    Element form = formOf(ward(), "still-needed");
    List<String> headers = new ArrayList<>(List.of("Cookie", cookies()));
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
    assertThat(recorded()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"number, 0123456789abcdef0", "issued, 1", "seal, x", "catheter, c2", "patient, p"})
  void a_form_that_was_changed_is_refused(String field, String value) throws Exception {
    Element form = formOf(ward(), "still-needed");

    HttpResponse<String> answer = send(form, with(fields(form, "still-needed"), field, value));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(code(answer)).isEqualTo("IND-0361");
    assertThat(recorded()).isEmpty();
  }

  @Test
  void a_form_of_another_browser_or_of_the_last_shift_is_refused() throws Exception {
    Element form = formOf(ward(), "still-needed");
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
    HttpResponse<String> old = send(form, fields);

    assertThat(List.of(code(other), code(old))).containsOnly("IND-0361");
    assertThat(recorded()).isEmpty();
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
    Element form = formOf(ward(), "still-needed");

    HttpResponse<String> answer = send(form, with(fields(form, "still-needed"), field, value));

    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(code(answer)).isEqualTo(code);
    assertThat(recorded()).isEmpty();
  }

  @Test
  void nothing_is_recorded_of_a_catheter_that_is_out() throws Exception {
    Document page = ward();
    server.record(
        Bedside.event(
            "out", "P-1", "catheter-removed", "2026-03-10T11:59:00Z", "\"catheterId\":\"c1\""));

    HttpResponse<String> answer = press(page, "care-checked");

    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(code(answer)).isEqualTo("IND-0364");
    assertThat(recorded()).isEmpty();
  }

  @Test
  void who_records_is_asked_once_and_kept_in_the_browser() throws Exception {
    Document page = server.page("/wards/A-1", "Cookie", browser);
    assertThat(page.select("button[name=act]")).isEmpty();
    assertThat(page.select(".recorder").text()).contains("There is no login yet");
    Element form = page.selectFirst(".recorder form");
    List<String[]> fields = with(fields(form, ""), "staffNumber", "N-77");

    HttpResponse<String> answer = send(form, fields);
    HttpResponse<String> hostile = send(form, with(fields, "staffNumber", "a; Path=/x"));

    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(answer.headers().firstValue("Set-Cookie").orElseThrow())
        .startsWith("indwell-recorder=N-77; ")
        .contains("HttpOnly", "SameSite=Strict", "Max-Age=43200");
    assertThat(code(hostile)).isEqualTo("IND-0362");
    assertThat(
            server
                .page("/wards/A-1", "Cookie", browser + "; indwell-recorder=N-77")
                .select(".recorder summary")
                .text())
        .isEqualTo("Recording as N-77");
  }

  @Test
  void without_a_recorder_nothing_is_recorded() throws Exception {
    Element form = formOf(ward(), "care-checked");

    HttpResponse<String> answer =
        server.form(
            form.attr("action"),
            fields(form, "care-checked"),
            "Origin",
            server.base(),
            "Cookie",
            browser);

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(code(answer)).isEqualTo("IND-0363");
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

  @Test
  void the_way_back_keeps_the_filters() throws Exception {
    Document page = server.page("/wards/A-1?overdue=only&within=4", "Cookie", cookies());

    HttpResponse<String> answer = press(page, "care-checked");

    assertThat(answer.headers().firstValue("Location").orElseThrow())
        .startsWith("/wards/A-1?overdue=only&within=4&recorded=")
        .contains("#c-");
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
