package indwell.web.ward;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.web.fhir.AnswersOverHttp;
import indwell.web.page.Bedside;
import indwell.web.page.PagesServer;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the ward page shows, over the demo ward. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardPageTest {
  private static PagesServer demo;

  @BeforeAll
  static void open() throws Exception {
    demo = new PagesServer();
    demo.loadDemo();
  }

  @AfterAll
  static void close() throws Exception {
    demo.close();
  }

  @Test
  void what_needs_a_hand_comes_first_and_the_most_pressing_kind_before_the_others()
      throws Exception {
    List<String> kinds =
        demo.page("/").select("li.catheter").stream()
            .map(row -> row.className().replace("catheter ", ""))
            .distinct()
            .toList();

    assertThat(kinds).containsExactly("patient", "removal", "care", "record", "none");
  }

  @Test
  void of_one_kind_of_hand_what_has_waited_longest_comes_first() throws Exception {
    Document page = demo.page("/");
    for (String kind : List.of("patient", "removal", "care", "record")) {
      List<Instant> since =
          page.select("li.catheter." + kind).stream()
              .map(
                  row ->
                      row.select(".hand." + kind).stream()
                          .map(flag -> OffsetDateTime.parse(flag.attr("data-since")).toInstant())
                          .min(Comparator.naturalOrder())
                          .orElseThrow())
              .toList();
      assertThat(since).as(kind).isNotEmpty().isSorted();
    }
  }

  @Test
  void the_page_says_how_many_are_in_place_or_not_known_to_be_out_and_how_many_need_a_hand()
      throws Exception {
    Document page = demo.page("/");

    assertThat(page.select("[data-figure=in-place]").attr("value"))
        .isEqualTo(Integer.toString(page.select("li.catheter:not(:has(.left))").size()));
    assertThat(page.select("[data-figure=left]").attr("value"))
        .isEqualTo(Integer.toString(page.select("li.catheter:has(.left)").size()));
    assertThat(page.select("[data-figure=need]").attr("value"))
        .isEqualTo(Integer.toString(page.select("li.catheter:has([data-flag])").size()));
    assertThat(page.select(".summary").text())
        .matches("\\d+ in place, \\d+ whose removal is not on record, \\d+ need a hand\\.");
  }

  /** Each flag on the page and its start, by Device. */
  private static Map<String, Instant> onPage(Document page, String attribute) {
    Map<String, Instant> flags = new TreeMap<>();
    for (Element flag : page.select("[" + attribute + "]")) {
      String device = flag.closest("[data-device]").attr("data-device");
      flags.put(
          device + " " + flag.attr(attribute),
          OffsetDateTime.parse(flag.attr("data-since")).toInstant());
    }
    return flags;
  }

  private static Map<String, Instant> overdue(Instant asOf, String ward) throws Exception {
    Map<String, Instant> flags = new TreeMap<>();
    try (AnswersOverHttp fhir = new AnswersOverHttp(demo.store(), PagesServer.BERLIN, demo.now())) {
      JsonNode bundle =
          new ObjectMapper()
              .readTree(
                  fhir.get("/$overdue?asOf=" + asOf + "&ward=" + ward, "application/fhir+json"));
      for (JsonNode entry : bundle.get("entry")) {
        JsonNode flag = entry.get("resource");
        if (flag.get("resourceType").asText().equals("Flag")) {
          String device = flag.get("id").asText().replaceFirst("-.*", "");
          flags.put(
              device + " " + flag.at("/code/coding/0/code").asText(),
              OffsetDateTime.parse(flag.at("/period/start").asText()).toInstant());
        }
      }
    }
    return flags;
  }

  @ParameterizedTest
  @ValueSource(strings = {"EAST-3", "ICU-1", "NORTH-2"})
  void the_flags_of_a_ward_are_those_of_the_FHIR_answer_now_and_at_the_end_of_the_look_ahead(
      String ward) throws Exception {
    Document page = demo.page("/wards/" + ward + "?within=24");
    Map<String, Instant> now = overdue(demo.now(), ward);
    Map<String, Instant> later = overdue(demo.now().plus(Duration.ofHours(24)), ward);
    later.keySet().removeAll(now.keySet());

    assertThat(now).isNotEmpty();
    assertThat(onPage(page, "data-flag")).isEqualTo(now);
    assertThat(onPage(page, "data-coming")).isEqualTo(later);
  }

  /** Dates are those of Berlin, an hour ahead of UTC in March. */
  @Test
  void the_day_counts_calendar_days_from_that_of_the_insertion() throws Exception {
    for (Element row : demo.page("/").select("li.catheter:not(:has(.left))")) {
      Instant since =
          OffsetDateTime.parse(row.selectFirst(".since time").attr("datetime")).toInstant();
      long days =
          Duration.between(since.plus(Duration.ofHours(1)), Instant.parse("2026-03-11T00:00:00Z"))
                  .toDays()
              + 1;
      boolean midnight = since.plus(Duration.ofHours(1)).toString().endsWith("T00:00:00Z");
      assertThat(row.selectFirst("[data-figure=day]").attr("value"))
          .isEqualTo(Long.toString(midnight ? days - 1 : days));
    }
  }

  @Test
  void each_thing_that_is_due_says_why() throws Exception {
    for (Element due : demo.page("/").select("[data-flag]")) {
      assertThat(due.selectFirst("details dl").text())
          .containsPattern("Rule FLAG-[A-Z-]+ Source .+ From the record .+ demo-ward:");
    }
  }

  @Test
  void every_time_has_its_zone_behind_it() throws Exception {
    assertThat(demo.page("/").select("time"))
        .isNotEmpty()
        .allMatch(time -> time.attr("title").contains("(Europe/Berlin, UTC+0"))
        .allMatch(time -> OffsetDateTime.parse(time.attr("datetime")) != null);
  }

  @Test
  void the_filters_of_the_address_leave_out_and_say_so() throws Exception {
    Document all = demo.page("/");
    Document one = demo.page("/?flag=balloon-fill-mismatch&flag=low-urine-output");
    Document due = demo.page("/wards/EAST-3?overdue=only");

    assertThat(one.select("li.catheter")).hasSize(2);
    assertThat(one.select(".hidden").text())
        .startsWith((all.select("li.catheter").size() - 2) + " more catheters are left out");
    assertThat(due.select("li.catheter:not(:has([data-flag]))")).isEmpty();
    assertThat(due.select(".hidden").text()).startsWith("1 more catheter is left out");
    assertThat(demo.page("/?within=0").select("[data-coming]")).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "/?flag=low | 400 | IND-0104",
        "/?within=73 | 400 | IND-0104",
        "/?within=-1 | 400 | IND-0104",
        "/?overdue=yes | 400 | IND-0104",
        "/?within=1&within=2 | 400 | IND-0104",
        "/?flags=low-urine-output | 400 | IND-0103",
        "/wards/nowhere-1 | 404 | IND-0100",
        "/wards/%3Cscript%3E | 404 | IND-0100"
      })
  void what_cannot_be_shown_is_a_page_with_a_code_and_a_way_on(String path, int status, String code)
      throws Exception {
    HttpResponse<String> answer = demo.get(path);

    assertThat(answer.statusCode()).isEqualTo(status);
    Document page = org.jsoup.Jsoup.parse(answer.body());
    assertThat(page.select("[data-code]").text()).isEqualTo(code);
    assertThat(page.select(".sentence").text()).endsWith(".");
    assertThat(page.select("a[href=/]")).isNotEmpty();
    assertThat(page.select("script")).isEmpty();
  }

  @Test
  void the_ward_of_older_addresses_is_found() throws Exception {
    HttpResponse<String> answer = demo.get("/?ward=EAST-3");

    assertThat(answer.statusCode()).isEqualTo(303);
    assertThat(answer.headers().firstValue("Location")).hasValue("/wards/EAST-3");
  }

  @Test
  void no_script_runs_no_cache_keeps_and_nobody_frames_the_page() throws Exception {
    HttpResponse<String> page = demo.get("/");

    assertThat(page.headers().firstValue("Content-Security-Policy").orElseThrow())
        .contains("default-src 'none'", "style-src 'self'", "frame-ancestors 'none'")
        .contains("base-uri 'none'", "form-action 'self'")
        .doesNotContain("unsafe-inline", "script-src");
    assertThat(page.headers().firstValue("Cache-Control")).hasValue("no-store");
    assertThat(page.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
    assertThat(page.headers().firstValue("Referrer-Policy")).hasValue("same-origin");
    assertThat(page.body()).doesNotContain("<script", "style=\"", "onclick", "http-equiv");
    assertThat(demo.get("/indwell.css").headers().firstValue("Content-Type"))
        .hasValue("text/css; charset=utf-8");
  }

  @Test
  void the_page_is_read_and_not_posted_to() throws Exception {
    HttpResponse<String> answer = demo.send("POST", "/");

    assertThat(answer.statusCode()).isEqualTo(405);
    assertThat(answer.headers().firstValue("Allow")).hasValue("GET, HEAD");
    assertThat(demo.send("HEAD", "/").body()).isEmpty();
  }

  @Test
  void every_page_carries_the_cautions() throws Exception {
    for (String path : List.of("/", "/wards/ICU-1")) {
      assertThat(demo.page(path).select("footer").text())
          .contains("Supports, never replaces, clinical judgement")
          .contains("local policy and licensed practice decide")
          .contains("candidates for a person to look at, never a diagnosis");
    }
    assertThat(demo.get("/wards/nowhere").body()).contains("never a diagnosis");
  }

  /** Headings, labels and names, as a screen reader goes through them. */
  @Test
  void every_row_has_a_heading_and_every_field_a_label() throws Exception {
    Document page = demo.page("/", "Cookie", "indwell-recorder=N-7");

    assertThat(page.select("h1")).hasSize(1);
    assertThat(page.select("li.catheter article"))
        .allMatch(row -> page.getElementById(row.attr("aria-labelledby")).is("h2"));
    assertThat(page.select("input:not([type=hidden]), select"))
        .isNotEmpty()
        .allMatch(
            field ->
                field.closest("label") != null
                    || !page.select("label[for=" + field.id() + "]").isEmpty());
    assertThat(page.select("summary")).allMatch(summary -> summary.text().length() > 3);
    assertThat(page.select("[id]").eachAttr("id")).doesNotHaveDuplicates();
  }

  @Test
  void a_ward_without_catheters_says_so() throws Exception {
    try (PagesServer server = new PagesServer()) {
      assertThat(server.page("/").text()).contains("Nobody here has a catheter on record.");
      server.record(
          Bedside.event(
              "a", "p", "patient-admitted", "2026-03-10T08:00:00Z", "\"ward\":\"EMPTY-1\""));

      Document page = server.page("/wards/EMPTY-1");

      assertThat(page.text()).contains("0 in place, nothing due.");
      assertThat(page.select(".nobody").text())
          .isEqualTo("Nobody in EMPTY-1 has a catheter on record.");
      assertThat(page.select(".wards a").eachText()).containsExactly("All wards", "EMPTY-1");
    }
  }

  @Test
  void a_ward_of_sixty_is_all_there() throws Exception {
    try (PagesServer server = new PagesServer()) {
      List<String> events = new ArrayList<>();
      for (int i = 0; i < 60; i++) {
        Instant admitted = PagesServer.NOW.minus(Duration.ofHours(10 + i));
        events.addAll(Bedside.withCatheter("P-" + i, "BIG-1", admitted));
      }
      server.record(events.toArray(String[]::new));

      Document page = server.page("/wards/BIG-1", "Cookie", "indwell-recorder=N-7");

      assertThat(page.select("li.catheter")).hasSize(60);
      assertThat(page.select("[data-figure=in-place]").attr("value")).isEqualTo("60");
      assertThat(page.select("form[action=/wards/BIG-1/record]")).hasSize(180);
      assertThat(page.html().length()).isLessThan(1_000_000);
    }
  }

  @Test
  void what_a_sender_wrote_is_text_and_never_markup() throws Exception {
    String hostile = "<script>alert(1)</script>\"'&";
    try (PagesServer server = new PagesServer()) {
      server.record(
          Bedside.event(
              "x1",
              hostile,
              "catheter-inserted",
              "2026-03-10T10:00:00Z",
              "\"catheterId\":\"<img src=x onerror=y>\",\"route\":\"urethral\",\"sizeCh\":14,"
                  + "\"indication\":\"other\",\"indicationText\":\"</li><b id='evil'>\""));

      Document page = server.page("/", "Cookie", "indwell-recorder=N-7");

      assertThat(page.select("script, img, #evil")).isEmpty();
      assertThat(page.select("h2 a").text()).isEqualTo(hostile);
      assertThat(page.select(".reason").text()).isEqualTo("Other: </li><b id='evil'>");
      assertThat(page.select("input[name=catheter]").attr("value"))
          .isEqualTo("<img src=x onerror=y>");
    }
  }
}
