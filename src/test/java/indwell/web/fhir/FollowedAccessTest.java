package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.Arrays;
import java.util.List;
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

/** What a request reaches beside what its address names needs a scope too. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FollowedAccessTest {
  private static GuardedFhir guarded;
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    guarded = new GuardedFhir();
    server = guarded.server();
  }

  @AfterAll
  static void stop() throws Exception {
    guarded.close();
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
            guarded.bearer("client-7", scopes),
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
            guarded.bearer("client-7", "system/Procedure.s"));

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
        guarded.bearer("client-7", scopes));
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
            guarded.bearer("client-7", "system/Procedure.c"));

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
            guarded.bearer("client-7", "system/Procedure.c"));

    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(answer.body()).contains("system/Procedure.s");
  }
}
