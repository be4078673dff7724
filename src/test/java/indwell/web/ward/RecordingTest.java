package indwell.web.ward;

import static indwell.web.ward.WardForms.fields;
import static indwell.web.ward.WardForms.formOf;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.port.StoredEvent;
import indwell.web.page.PagesServer;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
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
  @CsvSource({
    "still-needed, '\"indication\":\"acute-retention\",\"stillNeeded\":true', need-reviewed",
    "not-needed, '\"stillNeeded\":false', need-reviewed",
    "securement-changed, '\"catheterId\":\"c1\"', securement-changed",
    "care-checked, '\"meatal-hygiene\":true', care-checked"
  })
  void one_press_records_one_event_through_the_intake_of_all(
      String act, String content, String type) throws Exception {
    HttpResponse<String> answer = forms.press(forms.ward(), act);

    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(forms.recorded()).hasSize(1);
    assertThat(forms.recorded().get(0).canonical())
        .contains(content, "\"type\":\"" + type + "\"", "\"source\":\"ward-page\"")
        .contains("\"recorder\":{\"system\":\"https://indwell.example/fhir/typed-in-recorder\"")
        .contains("\"value\":\"N-204\"", "\"occurredAt\":\"2026-03-10T12:00:00");
    Document after =
        server.page(
            answer.headers().firstValue("Location").orElseThrow().replaceFirst("#.*", ""),
            "Cookie",
            forms.cookies());
    assertThat(after.select(".told").text()).startsWith("Recorded for P-1: ").contains("N-204");
  }

  @Test
  void what_is_recorded_lifts_its_flag() throws Exception {
    assertThat(forms.ward().select("[data-flag=care-check-overdue]")).hasSize(1);

    forms.press(forms.ward(), "care-checked");

    assertThat(forms.ward().select("[data-flag=care-check-overdue]")).isEmpty();
  }

  @Test
  void pressed_twice_is_recorded_once() throws Exception {
    Document page = forms.ward();

    HttpResponse<String> first = forms.press(page, "still-needed");
    server.advance(Duration.ofSeconds(2));
    HttpResponse<String> second = forms.press(page, "still-needed");

    assertThat(second.statusCode()).isEqualTo(303);
    assertThat(second.headers().firstValue("Location"))
        .isEqualTo(first.headers().firstValue("Location"));
    assertThat(forms.recorded()).hasSize(1);
  }

  @Test
  void pressed_twice_at_one_moment_is_recorded_once() throws Exception {
    Document page = forms.ward();
    List<CompletableFuture<Integer>> presses = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      presses.add(
          CompletableFuture.supplyAsync(
              () -> {
                try {
                  return forms.press(page, "securement-changed").statusCode();
                } catch (Exception e) {
                  throw new IllegalStateException(e);
                }
              }));
    }

    assertThat(presses).extracting(CompletableFuture::join).containsOnly(303);
    assertThat(forms.recorded()).hasSize(1);
  }

  @Test
  void another_answer_on_the_same_form_corrects_and_keeps_the_time() throws Exception {
    Document page = forms.ward();
    forms.press(page, "still-needed");
    server.advance(Duration.ofMinutes(3));

    forms.press(page, "not-needed");

    assertThat(forms.recorded()).hasSize(2);
    assertThat(forms.recorded().get(1).version()).isEqualTo(2);
    assertThat(forms.recorded().get(1).canonical())
        .contains("\"stillNeeded\":false", "\"occurredAt\":\"2026-03-10T12:00:00");
  }

  @Test
  void an_entry_is_taken_back_once_and_stays_in_the_history() throws Exception {
    HttpResponse<String> answer = forms.press(forms.ward(), "not-needed");
    Document told =
        server.page(
            answer.headers().firstValue("Location").orElseThrow().replaceFirst("#.*", ""),
            "Cookie",
            forms.cookies());
    Element form = told.selectFirst(".told form");

    HttpResponse<String> back = forms.send(form, fields(form, ""));
    HttpResponse<String> again = forms.send(form, fields(form, ""));

    assertThat(List.of(back.statusCode(), again.statusCode())).containsOnly(303);
    assertThat(forms.recorded()).extracting(StoredEvent::withdrawn).containsExactly(false, true);
    assertThat(forms.ward().select("[data-flag=no-accepted-indication]")).isEmpty();
    assertThat(
            server
                .page(
                    back.headers().firstValue("Location").orElseThrow(), "Cookie", forms.cookies())
                .select(".told")
                .text())
        .isEqualTo("Taken back: Review of need. It stays in the history.");
  }

  @Test
  void an_unticked_box_says_that_it_was_not_in_order() throws Exception {
    Element form = formOf(forms.ward(), "care-checked");
    List<String[]> fields =
        fields(form, "care-checked").stream()
            .filter(field -> !field[1].equals("closed-system"))
            .toList();

    forms.send(form, fields);

    assertThat(forms.recorded().get(0).canonical())
        .contains("\"closed-system\":false", "\"bag-off-floor\":true");
  }

  @Test
  void the_way_back_keeps_the_filters() throws Exception {
    Document page = server.page("/wards/A-1?overdue=only&within=4", "Cookie", forms.cookies());

    HttpResponse<String> answer = forms.press(page, "care-checked");

    assertThat(answer.headers().firstValue("Location").orElseThrow())
        .startsWith("/wards/A-1?overdue=only&within=4&recorded=")
        .contains("#c-");
  }
}
