package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpExchange;
import io.opentelemetry.proto.trace.v1.Span;
import io.opentelemetry.proto.trace.v1.Span.SpanKind;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What is said of a patient is in no span: things that occur nowhere else are sent by every route,
 * in every place of a request, and every byte that the collector was sent is searched for them. The
 * same spans are those of docs/traces.md.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class TracesCanaryIT {
  private static final Pattern ROW =
      Pattern.compile("^\\| `([^`]+)` \\| (\\w+) \\|.*\\|([^|]*)\\|$", Pattern.MULTILINE);
  private static final Pattern WORD = Pattern.compile("`([^`]+)`");

  @TempDir static Path data;

  private static String patient;
  private static TracedService traced;

  @BeforeAll
  static void pushEverythingThrough() throws Exception {
    traced = TracedService.start(data, TracesCanaryIT::hospital, Map.of());
    RunningService service = traced.service();
    for (String body : Canaries.goodEvents()) {
      assertThat(service.postEvent(body).statusCode()).isEqualTo(201);
    }
    patient = Canaries.patientId(service);
    assertThat(new CanaryCaller(service).askAll(patient, 1))
        .hasSizeGreaterThan(200)
        .contains(200, 400, 404, 405, 422);
    // When somebody else holds the store, what fails speaks of what it was about.
    try (HeldDatabase held = HeldDatabase.in(data)) {
      assertThat(service.postEvent(Canaries.insertion("late", "2")).statusCode()).isEqualTo(503);
    }
    traced.spanOf(service.get("/fhir/metadata"));
  }

  /** One in between is refused with what it was about. */
  private static void hospital(HttpExchange exchange) throws IOException {
    boolean refused = exchange.getRequestURI().getPath().contains("/Procedure/");
    byte[] answer =
        "{\"resourceType\":\"OperationOutcome\",\"text\":\"%s\"}"
            .formatted(Canaries.NAME)
            .getBytes(StandardCharsets.UTF_8);
    exchange.getResponseHeaders().add("Content-Type", "application/fhir+json");
    exchange.sendResponseHeaders(refused ? 422 : 201, answer.length);
    exchange.getResponseBody().write(answer);
  }

  @AfterAll
  static void stop() throws Exception {
    traced.close();
  }

  @Test
  void nothing_that_is_said_of_a_patient_is_in_a_span() {
    assertThat(traced.spans()).hasSizeGreaterThan(300);
    for (byte[] body : traced.collector().bodies()) {
      String sent = new String(body, StandardCharsets.ISO_8859_1).toLowerCase(Locale.ROOT);
      assertThat(sent)
          .doesNotContain(Canaries.TEXTS)
          .doesNotContain(Canaries.DATES)
          .doesNotContain("canary", patient);
    }
  }

  @Test
  void the_page_names_the_spans_and_attributes_and_no_other() throws Exception {
    Map<String, Set<String>> sent = new TreeMap<>();
    for (Span span : traced.spans()) {
      sent.computeIfAbsent(row(span), first -> new TreeSet<>())
          .addAll(Collector.attributes(span).keySet());
    }
    assertThat(sent).isEqualTo(page());
  }

  private static String row(Span span) {
    String name =
        switch (span.getKind()) {
          case SPAN_KIND_SERVER -> "{method} {route}";
          case SPAN_KIND_CLIENT -> "{method} {template}";
          default -> span.getName();
        };
    return name + " " + kind(span.getKind());
  }

  private static String kind(SpanKind kind) {
    return kind.name().replace("SPAN_KIND_", "").toLowerCase(Locale.ROOT);
  }

  private static Map<String, Set<String>> page() throws Exception {
    Map<String, Set<String>> rows = new TreeMap<>();
    Matcher row = ROW.matcher(Files.readString(Path.of("docs/traces.md")));
    while (row.find()) {
      if (!row.group(1).startsWith("INDWELL_")) {
        Set<String> attributes = new TreeSet<>();
        WORD.matcher(row.group(3)).results().forEach(word -> attributes.add(word.group(1)));
        rows.put(row.group(1) + " " + row.group(2), attributes);
      }
    }
    return rows;
  }

  /** Names are of fixed words: a method, and the pattern of an address. */
  @Test
  void the_name_of_a_request_is_its_method_and_its_pattern() throws Exception {
    Set<String> routes = new TreeSet<>();
    for (Span span : traced.spans()) {
      if (span.getKind() == SpanKind.SPAN_KIND_SERVER) {
        Map<String, String> attributes = Collector.attributes(span);
        String route = attributes.getOrDefault("http.route", "");
        String method = attributes.get("http.request.method");
        assertThat(method).isIn("GET", "POST", "PUT", "DELETE", "PATCH", "_OTHER");
        assertThat(span.getName())
            .isEqualTo(((method.equals("_OTHER") ? "HTTP" : method) + " " + route).trim());
        routes.add(route);
      }
    }
    routes.remove("");
    String page = Files.readString(Path.of("docs/traces.md"));
    int from = page.indexOf("## The patterns");
    Set<String> listed =
        WORD.matcher(page.substring(from, page.indexOf("\n## ", from + 1)))
            .results()
            .map(word -> word.group(1))
            .collect(Collectors.toCollection(TreeSet::new));
    assertThat(routes).hasSizeGreaterThan(30).isSubsetOf(listed);
  }
}
