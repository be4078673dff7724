package indwell.web.ward;

import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceQuery;
import indwell.port.StoredEvent;
import indwell.web.page.Bedside;
import indwell.web.page.PagesServer;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;

/**
 * The page of ward A-1 with one catheter in it, and its forms as a browser without scripts sends
 * them.
 */
final class WardForms implements AutoCloseable {
  private static final Pattern KEY = Pattern.compile("\"value\":\"ward-page:([^\"]+)\"");

  private final PagesServer server;
  private final String browser;

  WardForms() throws Exception {
    server = new PagesServer();
    server.record(
        Bedside.withCatheter("P-1", "A-1", PagesServer.NOW.minus(Duration.ofHours(30)))
            .toArray(String[]::new));
    browser =
        server.get("/").headers().firstValue("Set-Cookie").orElseThrow().replaceFirst(";.*", "");
  }

  PagesServer server() {
    return server;
  }

  /** The cookie by which the service knows the browser. */
  String browser() {
    return browser;
  }

  /** The browser, in which N-204 records. */
  String cookies() {
    return browser + "; indwell-recorder=N-204";
  }

  Document ward() throws Exception {
    return server.page("/wards/A-1", "Cookie", cookies());
  }

  /** The form with that button, as it stands. */
  static Element formOf(Document page, String act) {
    return page.selectFirst("button[value=" + act + "]").closest("form");
  }

  /** What the form sends when that button is pressed. */
  static List<String[]> fields(Element form, String act) {
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

  /** The fields with another value in one of them. */
  static List<String[]> with(List<String[]> fields, String name, String value) {
    List<String[]> changed =
        new ArrayList<>(fields.stream().filter(field -> !field[0].equals(name)).toList());
    changed.add(new String[] {name, value});
    return changed;
  }

  /** Sends fields as the browser does that has the form. */
  HttpResponse<String> send(Element form, List<String[]> fields) throws Exception {
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

  /** Sends the form of that button as it stands. */
  HttpResponse<String> press(Document page, String act) throws Exception {
    Element form = formOf(page, act);
    return send(form, fields(form, act));
  }

  /** Everything that the ward page recorded: all versions, as they are kept. */
  List<StoredEvent> recorded() {
    return server
        .store()
        .read(
            state ->
                state
                    .search(
                        new ResourceQuery(
                            "Provenance", Set.of(), Set.of(), Set.of(), Optional.empty(), 100))
                    .stream()
                    .flatMap(one -> versions(state, one.json()).stream())
                    .toList());
  }

  private static List<StoredEvent> versions(Reading state, String provenance) {
    Matcher found = KEY.matcher(provenance);
    return found.find() ? state.versionsOf(new EventKey("ward-page", found.group(1))) : List.of();
  }

  /** The code that a refusal shows. */
  static String code(HttpResponse<String> answer) {
    return Jsoup.parse(answer.body()).select("[data-code]").text();
  }

  @Override
  public void close() throws Exception {
    server.close();
  }
}
