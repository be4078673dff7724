package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.usecase.ReadResources;
import indwell.web.access.TestIssuer;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The table of {@code docs/access.md}, walked over every interaction that there is. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirAccessTest {
  private static final Pattern ROW =
      Pattern.compile(
          "\\| (GET|POST|PUT|DELETE) \\| (`[^`]+`|\\(the address[^|]*\\)) \\| (.*) \\|");
  private static final Pattern NEED = Pattern.compile("`(\\{type}|[A-Z]\\w+)\\.([cruds]+)`");
  private static final String STORED = "`.s` of every stored type";

  /** By client and scopes; signing takes longer than asking. */
  private static final Map<String, String> TOKENS = new ConcurrentHashMap<>();

  private static TestIssuer issuer;
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    issuer = new TestIssuer();
    server = new FhirServer(issuer.mode());
    server.recordStay();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
    issuer.close();
  }

  /** A row: how it is asked for, and what that needs. */
  record Row(String method, String address, String needs) {
    String path() {
      int mark = address.indexOf('?');
      return mark < 0 ? address : address.substring(0, mark);
    }

    /** The scopes that it needs of a type, each with one letter. */
    List<String> scopes(String type) {
      if (needs.equals(STORED)) {
        return ReadResources.TYPES.stream().map(one -> "system/" + one + ".s").sorted().toList();
      }
      List<String> scopes = new ArrayList<>();
      Matcher need = NEED.matcher(needs);
      while (need.find()) {
        String of = need.group(1).equals("{type}") ? type : need.group(1);
        need.group(2).chars().forEach(letter -> scopes.add("system/" + of + "." + (char) letter));
      }
      return scopes;
    }

    boolean open() {
      return needs.equals("nothing");
    }
  }

  static List<Row> table() throws Exception {
    List<Row> rows = new ArrayList<>();
    boolean below = false;
    for (String line : Files.readAllLines(Path.of("docs/access.md"))) {
      below = line.startsWith("## ") ? line.contains("Under `/fhir`") : below;
      Matcher row = ROW.matcher(line);
      if (below && row.matches()) {
        String address = row.group(2);
        rows.add(
            new Row(
                row.group(1),
                address.startsWith("(") ? "" : address.replace("`", ""),
                row.group(3)));
      }
    }
    return rows;
  }

  private static String address(Interaction interaction) {
    return String.join("/", interaction.route().segments());
  }

  /** Every address of a row: one for each type that an interaction there has. */
  record Asked(Row row, String type) {
    String address() {
      String filled =
          row.address().replace("{type}", type).replace("{id}", "x").replace("{vid}", "1");
      return filled.isEmpty() ? "" : "/" + filled;
    }

    @Override
    public String toString() {
      return row.method() + " " + address();
    }
  }

  static Stream<Asked> asked() throws Exception {
    List<Asked> asked = new ArrayList<>();
    for (Row row : table()) {
      server.interactions.stream()
          .filter(one -> address(one).equals(row.path()))
          .filter(one -> one.route().methods().contains(row.method()))
          .flatMap(
              one ->
                  one.route().types().isEmpty()
                      ? Stream.of("")
                      : one.route().types().stream().sorted())
          .forEach(type -> asked.add(new Asked(row, type)));
    }
    return asked.stream();
  }

  @Test
  void every_interaction_stands_in_the_table_once_and_nothing_else_does() throws Exception {
    List<String> there =
        server.interactions.stream()
            .flatMap(one -> one.route().methods().stream().map(m -> m + " " + address(one)))
            .distinct()
            .sorted()
            .toList();

    assertThat(table().stream().map(row -> row.method() + " " + row.path()).sorted())
        .containsExactlyElementsOf(there);
  }

  private static HttpResponse<String> ask(Asked asked, String scopes) throws Exception {
    return server.ask(
        asked.row().method(), asked.address(), "", "Authorization", bearer("client-7", scopes));
  }

  private static String bearer(String client, String scopes) {
    return TOKENS.computeIfAbsent(
        client + " " + scopes, one -> "Bearer " + issuer.token(client, scopes, FhirServer.NOW));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void without_a_token_nothing_is_done_but_what_is_open(Asked asked) throws Exception {
    HttpResponse<String> answer = server.ask(asked.row().method(), asked.address(), "");

    if (asked.row().open()) {
      assertThat(answer.statusCode()).isEqualTo(200);
    } else {
      assertThat(answer.statusCode()).isEqualTo(401);
      assertThat(answer.headers().firstValue("WWW-Authenticate"))
          .contains("Bearer realm=\"indwell\"");
      assertThat(answer.body()).contains("OperationOutcome", "IND-0401");
    }
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void with_the_scopes_of_the_table_it_may_go_on(Asked asked) throws Exception {
    String scopes =
        asked.row().needs().startsWith("any letter")
            ? "system/" + asked.type() + ".d"
            : String.join(" ", asked.row().scopes(asked.type()));

    assertThat(ask(asked, scopes.isEmpty() ? "system/Patient.rs" : scopes).statusCode())
        .isNotIn(401, 403, 500);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void with_any_of_them_left_out_it_may_not_and_is_told_which(Asked asked) throws Exception {
    List<String> scopes = asked.row().scopes(asked.type());
    for (String left : scopes.size() > 5 ? scopes.subList(0, 5) : scopes) {
      String others =
          scopes.stream().filter(one -> !one.equals(left)).collect(Collectors.joining(" "));
      HttpResponse<String> answer = ask(asked, others + " openid patient/*.cruds");

      assertThat(answer.statusCode()).as(others).isEqualTo(403);
      assertThat(answer.body()).contains("OperationOutcome", "IND-0403", left);
      assertThat(answer.headers().firstValue("WWW-Authenticate").orElse(""))
          .contains("error=\"insufficient_scope\"", "scope=\"" + left + "\"");
    }
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void scopes_of_every_other_type_do_not_help(Asked asked) throws Exception {
    boolean any = asked.row().needs().startsWith("any letter");
    List<String> types =
        any
            ? List.of(asked.type())
            : asked.row().scopes(asked.type()).stream()
                .map(FhirAccessTest::type)
                .distinct()
                .toList();
    String others =
        server.interactions.stream()
            .flatMap(one -> one.route().types().stream())
            .filter(one -> !types.contains(one))
            .distinct()
            .map(one -> "system/" + one + ".cruds")
            .collect(Collectors.joining(" "));

    if (!types.isEmpty()) {
      assertThat(ask(asked, others).statusCode()).isEqualTo(403);
    }
  }

  private static String type(String scope) {
    return scope.substring("system/".length(), scope.indexOf('.'));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void scopes_for_all_types_and_those_of_version_1_are_enough(Asked asked) throws Exception {
    if (asked.type().equals("AuditEvent")) {
      // Whoever reads everything of patients does not read who else did.
      assertThat(ask(asked, "system/*.cruds").statusCode()).isEqualTo(403);
      assertThat(ask(asked, "user/AuditEvent.read").statusCode()).isNotIn(401, 403, 500);
      return;
    }
    assertThat(ask(asked, "system/*.cruds").statusCode()).isNotIn(401, 403, 500);
    assertThat(ask(asked, "user/*.read user/*.write").statusCode()).isNotIn(401, 403, 500);
  }

  /** What is looked for beyond the table: address and scopes, then the scope that is lacking. */
  static Stream<List<String>> followed() {
    return Stream.of(
        List.of("/Procedure?_include=Procedure:subject", "Procedure.s", "system/Patient.r"),
        List.of("/Procedure?_include=Procedure:subject", "Procedure.s Patient.r", ""),
        List.of("/Patient?_revinclude=Procedure:subject", "Patient.s", "system/Procedure.s"),
        List.of("/Patient?_revinclude=Procedure:subject", "Patient.s Procedure.s", ""),
        List.of(
            "/Procedure?subject:Patient.identifier=urn:test:mrn%7Cp1",
            "Procedure.s", "system/Patient.s"),
        List.of(
            "/Procedure?subject:Patient.identifier=urn:test:mrn%7Cp1", "Procedure.s Patient.s", ""),
        List.of("/Procedure?patient.identifier=p1", "Procedure.s", "system/Patient.s"),
        List.of(
            "/$device-days?start=2026-03-01&end=2026-03-02&report-type=subject-list",
            "MeasureReport.r Location.r",
            "system/Patient.r"),
        List.of(
            "/$device-days?start=2026-03-01&end=2026-03-02&why=true",
            "MeasureReport.r Location.r",
            "system/Patient.r"),
        List.of(
            "/$device-days?start=2026-03-01&end=2026-03-02&why=true",
            "MeasureReport.r Location.r Patient.r Encounter.r DeviceUseStatement.r",
            ""),
        List.of("/$export?_type=Patient,Procedure", "Patient.rs", "system/Procedure.rs"),
        List.of("/$export?_type=Patient", "Patient.r", "system/Patient.s"),
        List.of("/$export?_type=Patient&_typeFilter=Patient%3F_id%3Dx", "Patient.rs", ""),
        List.of(
            "/$export?_type=Procedure&_typeFilter=Procedure%3Fpatient.identifier%3Dx",
            "Procedure.rs", "system/Patient.s"),
        List.of("/Patient/$export", "Location.rs", "system/Patient.rs"),
        List.of("/$export", "Nothing.rs", "system/"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("followed")
  void what_is_reached_on_the_way_is_needed_too(List<String> row) throws Exception {
    String scopes =
        Arrays.stream(row.get(1).split(" ", -1))
            .map(one -> "system/" + one)
            .collect(Collectors.joining(" "));
    HttpResponse<String> answer =
        server.ask(
            "GET",
            row.get(0),
            "",
            "Authorization",
            bearer("client-7", scopes),
            "Prefer",
            "handling=lenient");

    if (row.get(2).isEmpty()) {
      assertThat(answer.statusCode()).isIn(200, 202, 429);
    } else {
      assertThat(answer.statusCode()).isEqualTo(403);
      assertThat(answer.body()).contains(row.get(2));
    }
  }

  @Test
  void a_search_in_the_body_reaches_no_further_than_one_in_the_address() throws Exception {
    HttpResponse<String> answer =
        server.ask(
            "POST",
            "/Procedure/_search",
            "_include=Procedure:subject",
            "Content-Type",
            "application/x-www-form-urlencoded",
            "Authorization",
            bearer("client-7", "system/Procedure.s"));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(answer.body()).contains("system/Patient.r");
  }

  private static String bundle(String type, String... entries) {
    return "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[%s]}"
        .formatted(type, String.join(",", entries));
  }

  private static String entry(String method, String url) {
    return "{\"request\":{\"method\":\"%s\",\"url\":\"%s\"}}".formatted(method, url);
  }

  private static HttpResponse<String> send(String bundle, String scopes) throws Exception {
    return server.ask(
        "POST",
        "",
        bundle,
        "Content-Type",
        "application/fhir+json",
        "Authorization",
        bearer("client-7", scopes));
  }

  @Test
  void in_a_batch_each_entry_is_looked_at_for_itself() throws Exception {
    HttpResponse<String> answer =
        send(
            bundle(
                "batch",
                entry("GET", "Procedure?_count=1"),
                entry("GET", "Device?_count=1"),
                entry("DELETE", "Procedure/x"),
                entry("GET", "/Encounter/x"),
                entry("GET", "metadata")),
            "system/Procedure.s");

    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(statuses(answer.body())).containsExactly("200", "403", "403", "403", "200");
    assertThat(answer.body())
        .contains("system/Device.s", "system/Procedure.d", "system/Encounter.r");
  }

  private static List<String> statuses(String body) {
    return Pattern.compile("\"status\":\"(\\d{3})")
        .matcher(body)
        .results()
        .map(one -> one.group(1))
        .toList();
  }

  /** A method, an address, further members of the request, and the scope that is lacking. */
  static Stream<List<String>> changes() {
    return Stream.of(
        List.of("POST", "Procedure", "", "system/Procedure.c"),
        List.of("PUT", "Procedure/x", "", "system/Procedure.cu"),
        List.of("PUT", "/Procedure/x", "", "system/Procedure.cu"),
        List.of("PUT", "{base}/Procedure/x", "", "system/Procedure.cu"),
        List.of("DELETE", "Procedure/x", "", "system/Procedure.d"),
        List.of("DELETE", "Procedure?identifier=a|b", "", "system/Procedure.d"),
        List.of("GET", "Patient/x", "", "system/Patient.r"),
        List.of("GET", "Patient/x/_history", "", "system/Patient.r"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("changes")
  void a_transaction_is_refused_for_one_entry(List<String> change) throws Exception {
    HttpResponse<String> answer =
        send(
            bundle(
                "transaction",
                entry("GET", "Device?_count=1"),
                entry(change.get(0), change.get(1).replace("{base}", server.base()))),
            "system/Device.rs");

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(answer.body())
        .contains("OperationOutcome", change.get(3))
        .doesNotContain("\"entry\"");
  }

  @Test
  void a_reference_by_an_identifier_is_a_search() throws Exception {
    String observation =
        "{\"resourceType\":\"Procedure\",\"subject\":{\"reference\":\"Patient?identifier=urn:x|1\"}}";
    HttpResponse<String> inBundle =
        send(
            bundle(
                "transaction",
                "{\"resource\":"
                    + observation
                    + ",\"request\":{\"method\":\"POST\",\"url\":\"Procedure\"}}"),
            "system/Procedure.c");
    HttpResponse<String> alone =
        server.ask(
            "POST",
            "/Procedure",
            observation,
            "Content-Type",
            "application/fhir+json",
            "Authorization",
            bearer("client-7", "system/Procedure.c"));

    assertThat(inBundle.statusCode()).isEqualTo(403);
    assertThat(inBundle.body()).contains("system/Patient.s");
    assertThat(alone.statusCode()).isEqualTo(403);
    assertThat(alone.body()).contains("system/Patient.s");
  }

  @Test
  void a_create_that_looks_for_an_identifier_is_a_search() throws Exception {
    HttpResponse<String> answer =
        server.ask(
            "POST",
            "/Procedure",
            "{}",
            "Content-Type",
            "application/fhir+json",
            "If-None-Exist",
            "identifier=a|b",
            "Authorization",
            bearer("client-7", "system/Procedure.c"));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(answer.body()).contains("system/Procedure.s");
  }

  @Test
  void an_export_is_there_for_its_client_alone() throws Exception {
    String all = "system/*.rs";
    HttpResponse<String> ordered =
        server.ask("GET", "/$export?_type=Patient", "", "Authorization", bearer("client-a", all));
    assertThat(ordered.statusCode()).isEqualTo(202);
    String status =
        ordered
            .headers()
            .firstValue("Content-Location")
            .orElseThrow()
            .substring(server.base().length());
    String manifest = "";
    while (manifest.isEmpty()) {
      HttpResponse<String> polled =
          server.ask("GET", status, "", "Authorization", bearer("client-a", all));
      manifest = polled.statusCode() == 200 ? polled.body() : "";
      server.advance(java.time.Duration.ofSeconds(2));
    }
    Matcher file = Pattern.compile("\"url\":\"([^\"]+Patient[^\"]*)\"").matcher(manifest);
    assertThat(file.find()).as(manifest).isTrue();
    String path = file.group(1).substring(server.base().length());

    Map<String, Integer> others = new TreeMap<>();
    for (String[] one : new String[][] {{"GET", status}, {"GET", path}, {"DELETE", status}}) {
      others.put(
          one[0] + one[1],
          server.ask(one[0], one[1], "", "Authorization", bearer("client-b", all)).statusCode());
    }

    assertThat(others.values()).containsOnly(404);
    assertThat(
            server
                .ask("GET", path, "", "Authorization", bearer("client-a", "system/Device.rs"))
                .statusCode())
        .isEqualTo(403);
    assertThat(server.ask("GET", path, "", "Authorization", bearer("client-a", all)).statusCode())
        .isEqualTo(200);
    assertThat(
            server.ask("DELETE", status, "", "Authorization", bearer("client-a", all)).statusCode())
        .isEqualTo(202);
  }

  @Test
  void an_export_without_types_gives_those_of_the_token() throws Exception {
    HttpResponse<String> ordered =
        server.ask(
            "GET",
            "/$export",
            "",
            "Authorization",
            bearer("client-c", "system/Patient.rs system/Device.r"));
    String status =
        ordered
            .headers()
            .firstValue("Content-Location")
            .orElseThrow()
            .substring(server.base().length());
    String manifest = "";
    while (manifest.isEmpty()) {
      HttpResponse<String> polled =
          server.ask("GET", status, "", "Authorization", bearer("client-c", "system/Patient.rs"));
      manifest = polled.statusCode() == 200 ? polled.body() : "";
      server.advance(java.time.Duration.ofSeconds(2));
    }

    assertThat(
            Pattern.compile("\"type\":\"(\\w+)\"")
                .matcher(manifest)
                .results()
                .map(one -> one.group(1)))
        .containsExactly("Patient");
  }

  @Test
  void the_capability_statement_says_that_tokens_are_asked_for() throws Exception {
    assertThat(server.ask("GET", "/metadata", "").body())
        .contains("\"security\":{\"cors\":false", "\"SMART-on-FHIR\"");
  }

  @Test
  void no_answer_repeats_a_token() throws Exception {
    String forged = bearer("client-7", "system/Patient.rs") + "x";
    HttpResponse<String> answer = server.ask("GET", "/Patient/x", "", "Authorization", forged);

    assertThat(answer.statusCode()).isEqualTo(401);
    assertThat(answer.headers().firstValue("WWW-Authenticate"))
        .contains("Bearer realm=\"indwell\", error=\"invalid_token\"");
    assertThat(answer.body() + answer.headers().map()).doesNotContain(forged.substring(7, 60));
  }

  @Test
  void two_headers_an_address_and_another_scheme_bring_no_token() throws Exception {
    String token = bearer("client-7", "system/*.cruds");
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", token, "Authorization", token)
                .statusCode())
        .isEqualTo(401);
    assertThat(server.ask("GET", "/Patient/x?access_token=" + token.substring(7), "").statusCode())
        .isEqualTo(401);
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", "Basic " + token.substring(7))
                .statusCode())
        .isEqualTo(401);
    assertThat(
            server
                .ask("GET", "/Patient/x", "", "Authorization", "bEARER " + token.substring(7))
                .statusCode())
        .isEqualTo(404);
  }

  /**
   * Weaknesses of path policies; here the decision is at the interaction, however it is written.
   */
  @Test
  void an_address_that_is_written_otherwise_is_not_open() throws Exception {
    for (String path :
        List.of(
            "/Patient;x",
            "/Patient%2Fx",
            "/%50atient/x",
            "/metadata/../Patient",
            "/metadata;/../Patient",
            "//Patient")) {
      assertThat(server.ask("GET", path, "").statusCode()).as(path).isIn(401, 404);
    }
  }
}
