package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpServer;
import io.opentelemetry.proto.trace.v1.Span;
import io.opentelemetry.proto.trace.v1.Span.SpanKind;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.awaitility.Awaitility;
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
  private static final String NUMBER = "Qz7Canary-Number";
  private static final String STAY = "Qz7Canary-Stay";
  private static final String NAME = "Qz7canary Name";
  private static final String CATHETER = "Qz7Canary-Catheter";
  private static final String VOLUME = "1733.291";
  private static final String BORN = "1931-07-19";

  /** To the millisecond, so that it is the time of nothing else. */
  private static final String TIME =
      Instant.now()
          .minus(2, ChronoUnit.HOURS)
          .truncatedTo(ChronoUnit.SECONDS)
          .plusMillis(219)
          .toString();

  private static final Pattern ROW =
      Pattern.compile("^\\| `([^`]+)` \\| (\\w+) \\|.*\\|([^|]*)\\|$", Pattern.MULTILINE);
  private static final Pattern WORD = Pattern.compile("`([^`]+)`");

  @TempDir static Path data;

  private static final HttpClient CLIENT =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();

  private static final List<String> PATIENTS = new ArrayList<>();
  private static Collector collector;
  private static HttpServer hospital;
  private static RunningService service;

  @BeforeAll
  static void pushEverythingThrough() throws Exception {
    collector = new Collector();
    hospital = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    hospital.createContext(
        "/",
        exchange -> {
          exchange.getRequestBody().readAllBytes();
          // One in between is refused with what it was about.
          boolean refused = exchange.getRequestURI().getPath().contains("/Procedure/");
          byte[] answer =
              ("{\"resourceType\":\"OperationOutcome\",\"text\":\"" + NAME + "\"}")
                  .getBytes(StandardCharsets.UTF_8);
          exchange.getResponseHeaders().add("Content-Type", "application/fhir+json");
          exchange.sendResponseHeaders(refused ? 422 : 201, answer.length);
          exchange.getResponseBody().write(answer);
          exchange.close();
        });
    hospital.start();
    service =
        RunningService.start(
            Map.of(
                "INDWELL_DATA_DIR",
                data.toString(),
                "INDWELL_TRACES_ENDPOINT",
                collector.endpoint(),
                "INDWELL_PUBLISH_URL",
                "http://127.0.0.1:" + hospital.getAddress().getPort() + "/fhir"));
    for (String body : goodEvents()) {
      assertThat(service.postEvent(body).statusCode()).isEqualTo(201);
    }
    String found = service.get("/fhir/Patient?identifier=urn:canary%7C" + NUMBER).body();
    new ObjectMapper()
        .readTree(found)
        .findValues("resource")
        .forEach(resource -> PATIENTS.add(resource.get("id").asText()));
    assertThat(PATIENTS).hasSize(1);
    assertThat(askAll()).hasSizeGreaterThan(200).contains(200, 400, 404, 405, 422);
    storeHeld();
    String last = service.get("/fhir/metadata").headers().firstValue("X-Request-Id").orElseThrow();
    Awaitility.await()
        .atMost(java.time.Duration.ofSeconds(30))
        .until(
            () ->
                collector.spans().stream()
                    .anyMatch(span -> Collector.attributes(span).containsValue(last)));
  }

  @AfterAll
  static void stop() throws Exception {
    service.close();
    hospital.stop(0);
    collector.close();
  }

  private static String event(String id, String type, String details) {
    return """
        {"source":"canary","eventId":"%s","type":"%s","occurredAt":"%s",\
        "patient":{"system":"urn:canary","value":"%s"},\
        "encounter":{"system":"urn:canary:stay","value":"%s"},\
        "recorder":{"system":"urn:canary:staff","value":"%s"},"details":%s}"""
        .formatted(id, type, TIME, NUMBER, STAY, NAME, details);
  }

  private static List<String> goodEvents() {
    return List.of(
        event("1", "patient-admitted", "{\"ward\":\"A-1\"}"),
        event(
            "2",
            "catheter-inserted",
            "{\"catheterId\":\"%s\",\"route\":\"urethral\",\"sizeCh\":16,\"indication\":\"other\",\"indicationText\":\"%s\"}"
                .formatted(CATHETER, NAME)));
  }

  private static List<String> bodies() {
    String good = goodEvents().get(1);
    return List.of(
        good,
        good.replace("\"details\"", "\"" + NAME + "\""),
        good.replace("\"sizeCh\":16", "\"sizeCh\":" + VOLUME),
        good.replace(TIME, "2026-13-45 " + NAME),
        "[" + good + "," + good.replace("\"2\"", "\"3\"") + "]",
        good + "\n" + NAME + "\n",
        NAME,
        "{\"resourceType\":\"Patient\",\"birthDate\":\"%s\",\"name\":[{\"family\":\"%s\"}]}"
            .formatted(BORN, NAME),
        "{\"resourceType\":\"Bundle\",\"type\":\"transaction\",\"entry\":[{\"resource\":"
            + "{\"resourceType\":\"Observation\",\"valueQuantity\":{\"value\":"
            + VOLUME
            + "},\"subject\":{\"reference\":\"Patient?identifier=urn:canary|"
            + NUMBER
            + "\"}},\"request\":{\"method\":\"POST\",\"url\":\"Observation\"}}]}",
        "{\"resourceType\":\"Parameters\",\"parameter\":[{\"name\":\"%s\",\"valueString\":\"%s\"}]}"
            .formatted(NAME, NUMBER),
        "x=" + URLEncoder.encode(NAME, StandardCharsets.UTF_8));
  }

  private static List<String> addresses() {
    String value = URLEncoder.encode("urn:canary|" + NUMBER, StandardCharsets.UTF_8);
    String name = URLEncoder.encode(NAME, StandardCharsets.UTF_8).replace("+", "%20");
    String patient = PATIENTS.get(0);
    return List.of(
        "/events?patient=" + value,
        "/fhir",
        "/fhir/metadata?x=" + name,
        "/fhir/Patient?identifier=" + value + "&birthdate=" + BORN,
        "/fhir/Patient?" + name + "=1",
        "/fhir/Patient/" + NUMBER,
        "/fhir/Patient/" + patient,
        "/fhir/Patient/" + patient + "/_history",
        "/fhir/Patient/" + patient + "/_history/1",
        "/fhir/Patient/" + name,
        "/fhir/Patient/_search",
        "/fhir/Patient/_history?_since=" + name,
        "/fhir/_history",
        "/fhir/Procedure?patient=" + patient + "&date=" + TIME,
        "/fhir/Observation?date=" + name,
        "/fhir/AuditEvent?patient=" + patient,
        "/fhir/Patient/$validate",
        "/fhir/Patient/" + patient + "/$catheter-days?asOf=" + name,
        "/fhir/Patient/" + patient + "/$catheter-days",
        "/fhir/$overdue?ward=" + name,
        "/fhir/$device-days?start=" + name + "&end=" + TIME,
        "/fhir/$unit-report?start=" + name,
        "/fhir/Location/" + NUMBER + "/$device-days",
        "/fhir/Location/" + NUMBER,
        "/fhir/$export",
        "/fhir/$export/" + NUMBER,
        "/fhir/$export/" + NUMBER + "/Patient.ndjson",
        "/fhir/" + name + "/" + BORN,
        "/.well-known/" + name,
        "/publishing?resource=" + value,
        "/publishing/parked/Patient/" + NUMBER + "/$release",
        "/publishing/" + name,
        "/surveillance?x=" + name,
        "/surveillance/candidates",
        "/surveillance/" + name + "/2026-02",
        "/surveillance/A-1/" + name + "/versions",
        "/surveillance/" + name,
        "/?ward=" + name,
        "/wards/" + name + "?ahead=" + name,
        "/wards/A-1/record",
        "/wards/A-1/take-back",
        "/recorder",
        "/patients/" + patient,
        "/patients/" + NUMBER,
        "/insertions/" + NUMBER,
        "/report?month=" + name,
        "/wards/" + NUMBER + "/report.csv?month=" + name,
        "/login?to=" + name,
        "/login/callback?code=" + name + "&state=" + name,
        "/" + name);
  }

  private static int ask(String method, String address, String type, String body) throws Exception {
    HttpRequest request =
        HttpRequest.newBuilder(service.uri(address))
            .method(
                method,
                method.equals("GET") ? BodyPublishers.noBody() : BodyPublishers.ofString(body))
            .header("Content-Type", type)
            .header("User-Agent", NAME)
            .header("Authorization", "Bearer " + NUMBER)
            .header("If-None-Exist", "identifier=urn:canary|" + NUMBER)
            .header("If-Match", "W/\"" + NUMBER + "\"")
            .header("Cookie", "indwell-recorder=" + NUMBER + "; indwell-session=" + NUMBER)
            .header("Referer", "https://canary.example/" + NUMBER)
            .header("X-Forwarded-For", NUMBER)
            .header("X-Request-Id", NUMBER)
            .header("baggage", "patient=" + NUMBER)
            .header("traceparent", "00-" + NUMBER + "-00f067aa0ba902b7-01")
            .build();
    return CLIENT.send(request, BodyHandlers.discarding()).statusCode();
  }

  /** Every address by every method, one that is none among them; each body and type in turn. */
  private static List<Integer> askAll() throws Exception {
    List<String> types =
        List.of(
            "application/json",
            "application/fhir+json",
            "application/x-ndjson",
            "application/x-www-form-urlencoded",
            "text/" + NUMBER);
    List<String> bodies = bodies();
    List<Integer> statuses = new ArrayList<>();
    int turn = 0;
    for (String address : addresses()) {
      for (String method : List.of("GET", "POST", "PUT", "DELETE", "QZ7CANARY")) {
        statuses.add(
            ask(method, address, types.get(turn % types.size()), bodies.get(turn % bodies.size())));
        turn++;
      }
    }
    for (String body : bodies) {
      statuses.add(ask("POST", "/events", "application/json", body));
      statuses.add(ask("POST", "/events", "application/x-ndjson", body));
      statuses.add(ask("POST", "/fhir", "application/fhir+json", body));
      statuses.add(ask("POST", "/fhir/Patient/$validate", "application/fhir+json", body));
    }
    return statuses;
  }

  /** When somebody else holds the store, what fails speaks of what it was about. */
  private static void storeHeld() throws Exception {
    try (Connection other =
            DriverManager.getConnection("jdbc:sqlite:" + data.resolve("indwell.db"));
        Statement statement = other.createStatement()) {
      statement.execute("BEGIN IMMEDIATE");
      String late = goodEvents().get(1).replace("\"source\":\"canary\"", "\"source\":\"late\"");
      assertThat(service.postEvent(late).statusCode()).isEqualTo(503);
    }
  }

  @Test
  void nothing_that_is_said_of_a_patient_is_in_a_span() {
    assertThat(collector.spans()).hasSizeGreaterThan(300);
    for (byte[] body : collector.bodies()) {
      String sent = new String(body, StandardCharsets.ISO_8859_1).toLowerCase(Locale.ROOT);
      for (String canary : List.of("qz7", "canary", VOLUME, TIME, BORN, PATIENTS.get(0))) {
        assertThat(sent).doesNotContain(canary.toLowerCase(Locale.ROOT));
      }
    }
  }

  @Test
  void the_page_names_the_spans_and_attributes_and_no_other() throws Exception {
    Map<String, Set<String>> sent = new TreeMap<>();
    for (Span span : collector.spans()) {
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
    for (Span span : collector.spans()) {
      if (span.getKind() == SpanKind.SPAN_KIND_SERVER) {
        Map<String, String> attributes = Collector.attributes(span);
        String route = attributes.getOrDefault("http.route", "");
        String method = attributes.get("http.request.method");
        assertThat(method).isIn("GET", "POST", "PUT", "DELETE", "_OTHER");
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
