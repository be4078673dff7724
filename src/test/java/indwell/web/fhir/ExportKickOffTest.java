package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Orders for exports (FHIR Bulk Data 3.0.0, kick-off request). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportKickOffTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final List<String> ALL =
      List.of(
          "Device",
          "DeviceUseStatement",
          "Encounter",
          "Flag",
          "Location",
          "Observation",
          "Patient",
          "Procedure",
          "Provenance",
          "Specimen");

  @TempDir Path folder;
  private ExportServer server;

  @BeforeEach
  void open() throws Exception {
    server = new ExportServer(new MemoryStore(), new MemoryExportJobs(), folder);
    server.http.recordStay();
    server.http.record(other("x1", "patient-admitted", "\"ward\":\"B-2\""));
    server.http.record(
        other(
            "x2",
            "catheter-inserted",
            "\"catheterId\":\"c9\",\"route\":\"urethral\",\"sizeCh\":16,"
                + "\"indication\":\"acute-retention\""));
  }

  @AfterEach
  void close() throws Exception {
    server.close();
  }

  /** An event of patient p2. */
  private static String other(String id, String type, String details) {
    return FhirServer.event(id, type, "2026-03-02T09:00:00+01:00", details)
        .replace("\"p1\"", "\"p2\"")
        .replace("\"s1\"", "\"s2\"");
  }

  /** Source: RFC 9110, sections 9.2.1 and 9.3.2: a HEAD asks for nothing to be done. */
  @Test
  void a_HEAD_begins_no_export() throws Exception {
    for (String path : List.of("/$export", "/Patient/$export", "/Group/A-1/$export")) {
      HttpResponse<String> answer = server.http.send("HEAD", path);

      assertThat(answer.statusCode()).as(path).isEqualTo(405);
      assertThat(answer.headers().firstValue("Allow")).contains("GET, POST");
      assertThat(answer.headers().firstValue("Content-Location")).isEmpty();
    }
    HttpResponse<String> deleted = server.http.send("DELETE", "/$export");
    assertThat(deleted.statusCode()).isEqualTo(405);
    assertThat(deleted.headers().firstValue("Allow")).contains("GET, POST");
    assertThat(deleted.body()).contains("expected GET, POST.");
    assertThat(server.http.send("HEAD", "/$overdue").statusCode()).isEqualTo(200);
  }

  @Test
  void a_kick_off_is_accepted_with_an_absolute_place_for_its_status() throws Exception {
    HttpResponse<String> answer =
        server.http.get("/$export", "Accept", "application/fhir+json", "Prefer", "respond-async");
    assertThat(answer.statusCode()).isEqualTo(202);
    assertThat(answer.body()).isEmpty();
    assertThat(answer.headers().firstValue("Content-Location").orElseThrow())
        .matches("http://127\\.0\\.0\\.1:\\d+/fhir/\\$export/[0-9a-f-]{36}");
    assertThat(answer.headers().firstValue("Preference-Applied")).contains("respond-async");
  }

  @Test
  void without_a_preference_it_is_the_same() throws Exception {
    assertThat(server.http.get("/$export").statusCode()).isEqualTo(202);
  }

  @Test
  void an_export_of_the_system_has_every_resource_as_a_read_gives_it() throws Exception {
    Map<String, List<JsonNode>> lines = server.export("/$export");
    assertThat(List.copyOf(new TreeSet<>(lines.keySet()))).isEqualTo(ALL);
    for (String type : ALL) {
      List<JsonNode> found = new ArrayList<>();
      JsonNode bundle = JSON.readTree(server.http.get("/" + type + "?_count=1000").body());
      bundle.path("entry").forEach(entry -> found.add(entry.get("resource")));
      assertThat(lines.get(type)).as(type).containsExactlyInAnyOrderElementsOf(found);
    }
  }

  @Test
  void the_parameters_may_come_as_a_resource() throws Exception {
    String status = post("/$export", "{\"name\":\"_type\",\"valueString\":\"Patient,Location\"}");
    assertThat(server.lines(server.manifest(status), "output").keySet())
        .containsExactly("Location", "Patient");
  }

  @Test
  void the_three_names_of_the_format_are_taken_and_no_other() throws Exception {
    for (String name : List.of("application/fhir%2Bndjson", "application/ndjson", "ndjson")) {
      String status = server.begin("/$export?_type=Patient&_outputFormat=" + name);
      assertThat(server.lines(server.manifest(status), "output").get("Patient")).hasSize(2);
    }
    server.manifest(server.begin("/$export?_outputFormat=application/fhir+ndjson"));
    refused("/$export?_outputFormat=text/csv", "IND-0104");
    refused("/$export?_outputFormat=ndjson&_outputFormat=ndjson", "IND-0104");
  }

  @Test
  void only_what_changed_after_since_is_exported() throws Exception {
    JsonNode first = server.manifest(server.begin("/$export"));
    String time = first.get("transactionTime").textValue();
    assertThat(server.export("/$export?_since=" + time)).isEmpty();
    server.clock.advance(Duration.ofSeconds(1));
    server.http.record(other("x3", "weight-measured", "\"kg\":81"));
    Map<String, List<JsonNode>> later = server.export("/$export?_since=" + time);
    assertThat(later.keySet()).containsExactly("Observation", "Provenance");
    assertThat(later.get("Observation")).hasSize(1);
    String before = FhirServer.NOW.minusMillis(1).toString();
    assertThat(server.export("/$export?_since=" + before).get("Patient")).hasSize(2);
    String offset = "2026-03-10T12:59:59.999+01:00";
    assertThat(server.export("/$export?_since=" + offset).get("Patient")).hasSize(2);
  }

  @Test
  void only_what_changed_before_until_is_exported() throws Exception {
    server.clock.advance(Duration.ofSeconds(1));
    server.http.record(other("x3", "weight-measured", "\"kg\":81"));
    String until = FhirServer.NOW.plusSeconds(1).toString();
    assertThat(server.export("/$export?_until=" + until).get("Observation")).hasSize(1);
    assertThat(server.export("/$export?_until=" + FhirServer.NOW)).doesNotContainKey("Patient");
  }

  @Test
  void times_that_are_no_instants_are_refused() throws Exception {
    refused("/$export?_since=2026-03-01", "IND-0104");
    refused("/$export?_since=yesterday", "IND-0104");
    refused("/$export?_until=2026-03-01T10:00", "IND-0104");
    refused("/$export?_since=2026-03-01T10:00:00Z&_since=2026-03-01T10:00:00Z", "IND-0104");
  }

  @Test
  void types_may_be_a_list_or_repeated() throws Exception {
    Set<String> both = Set.of("Patient", "Device");
    assertThat(server.export("/$export?_type=Patient,Device").keySet()).isEqualTo(both);
    assertThat(server.export("/$export?_type=Patient&_type=Device").keySet()).isEqualTo(both);
  }

  @Test
  void a_type_that_is_not_here_is_refused_or_passed_over_with_a_remark() throws Exception {
    refused("/$export?_type=Patient,Medication", "IND-0104");
    JsonNode manifest =
        server.manifest(
            server.begin("/$export?_type=Patient,Medication", "Prefer", "handling=lenient"));
    assertThat(server.lines(manifest, "output").keySet()).containsExactly("Patient");
    List<JsonNode> remarks = server.lines(manifest, "error").get("OperationOutcome");
    assertThat(remarks).hasSize(1);
    assertThat(remarks.get(0).at("/issue/0/severity").textValue()).isEqualTo("warning");
    assertThat(remarks.get(0).at("/issue/0/diagnostics").textValue()).contains("Medication");
    JsonNode none =
        server.manifest(server.begin("/$export?_type=Medication", "Prefer", "handling=lenient"));
    assertThat(none.get("output")).isEmpty();
  }

  @Test
  void parameters_that_are_not_supported_are_refused_or_passed_over_with_a_remark()
      throws Exception {
    for (String query :
        List.of(
            "_elements=id",
            "includeAssociatedData=LatestProvenanceResources",
            "organizeOutputBy=Patient",
            "allowPartialManifests=true",
            "colour=blue")) {
      refused("/$export?" + query, "IND-0103");
    }
    JsonNode manifest =
        server.manifest(
            server.begin(
                "/$export?_type=Patient&_elements=id",
                "Prefer",
                "respond-async",
                "Prefer",
                "handling=lenient"));
    assertThat(server.lines(manifest, "output").get("Patient")).hasSize(2);
    assertThat(server.lines(manifest, "error").get("OperationOutcome").get(0).toString())
        .contains("_elements")
        .contains("IND-0274");
  }

  @Test
  void a_type_filter_filters_its_type_and_no_other() throws Exception {
    String patient =
        server.export("/$export?_type=Patient").get("Patient").get(0).get("id").textValue();
    Map<String, List<JsonNode>> lines =
        server.export("/$export?_type=Patient,Device&_typeFilter=Patient%3F_id%3D" + patient);
    assertThat(lines.get("Patient"))
        .extracting(one -> one.get("id").textValue())
        .containsExactly(patient);
    assertThat(lines.get("Device")).hasSize(2);
  }

  @Test
  void type_filters_of_one_type_add_up() throws Exception {
    List<JsonNode> all = server.export("/$export?_type=Provenance").get("Provenance");
    StringBuilder query = new StringBuilder("/$export?_type=Provenance");
    for (JsonNode one : all.subList(0, 5)) {
      query.append("&_typeFilter=Provenance%3F_id%3D").append(one.get("id").textValue());
    }
    query.append("&_typeFilter=Provenance%3F_id%3D").append(all.get(0).get("id").textValue());
    assertThat(server.export(query.toString()).get("Provenance"))
        .containsExactlyInAnyOrderElementsOf(all.subList(0, 5));
  }

  @Test
  void flags_are_filtered_too() throws Exception {
    int all = server.export("/$export?_type=Flag").get("Flag").size();
    List<JsonNode> active =
        server.export("/$export?_type=Flag&_typeFilter=Flag%3Fstatus%3Dactive").get("Flag");
    assertThat(active).isNotEmpty().hasSizeLessThanOrEqualTo(all);
    assertThat(active).allMatch(flag -> flag.get("status").textValue().equals("active"));
  }

  @Test
  void a_type_filter_that_cannot_be_used_is_refused_or_passed_over() throws Exception {
    for (String filter :
        List.of(
            "Patient",
            "Medication%3Fstatus%3Dactive",
            "Patient%3F",
            "Patient%3Fcolour%3Dblue",
            "Patient%3F_sort%3D_id",
            "Provenance%3F_include%3DProvenance:target",
            "Patient%3F_elements%3Did",
            "%3F_id%3D1")) {
      HttpResponse<String> answer = server.http.get("/$export?_typeFilter=" + filter);
      assertThat(answer.statusCode()).as(filter).isEqualTo(400);
      assertThat(answer.body()).as(filter).contains("OperationOutcome");
    }
    JsonNode manifest =
        server.manifest(
            server.begin(
                "/$export?_type=Patient&_typeFilter=Patient%3Fcolour%3Dblue",
                "Prefer", "handling=lenient"));
    assertThat(server.lines(manifest, "output").get("Patient")).hasSize(2);
    assertThat(server.lines(manifest, "error").get("OperationOutcome")).hasSize(1);
  }

  @Test
  void an_export_of_patients_has_what_belongs_to_them_and_what_explains_it() throws Exception {
    assertThat(server.export("/Patient/$export")).isEqualTo(server.export("/$export"));
    refused("/Patient/$export?_type=Device,Location", "IND-0104");
    assertThat(server.export("/Patient/$export?_type=Device,Patient").keySet())
        .containsExactly("Device", "Patient");
  }

  @Test
  void an_export_of_a_group_has_the_patients_of_its_ward() throws Exception {
    Map<String, List<JsonNode>> lines = server.export("/Group/B-2/$export");
    assertThat(lines.get("Patient")).hasSize(1);
    assertThat(lines.get("Patient").get(0).at("/identifier/0/value").textValue()).isEqualTo("p2");
    assertThat(lines.get("Location")).hasSize(2);
    String reference = "Patient/" + lines.get("Patient").get(0).get("id").textValue();
    for (String type : List.of("Procedure", "Encounter", "DeviceUseStatement", "Flag")) {
      assertThat(lines.get(type))
          .as(type)
          .isNotEmpty()
          .allMatch(one -> one.at("/subject/reference").textValue().equals(reference));
    }
    assertThat(lines.get("Provenance")).hasSize(2);
  }

  @Test
  void a_group_that_is_not_here_is_not_found() throws Exception {
    HttpResponse<String> answer = server.http.get("/Group/C-3/$export");
    assertThat(answer.statusCode()).isEqualTo(404);
    assertThat(answer.body()).contains("OperationOutcome").contains("IND-0100");
  }

  @Test
  void an_export_may_be_confined_to_some_patients() throws Exception {
    String id = server.export("/Group/B-2/$export").get("Patient").get(0).get("id").textValue();
    String only =
        "{\"name\":\"patient\",\"valueReference\":{\"reference\":\"Patient/" + id + "\"}}";
    for (String path : List.of("/Patient/$export", "/Group/B-2/$export")) {
      assertThat(server.lines(server.manifest(post(path, only)), "output"))
          .as(path)
          .isEqualTo(server.export("/Group/B-2/$export"));
    }
    assertThat(posted("/Group/A-1/$export", only).statusCode()).isEqualTo(400);
    assertThat(posted("/Patient/$export", only.replace(id, "nobody")).statusCode()).isEqualTo(400);
    assertThat(posted("/$export", only).statusCode()).isEqualTo(400);
    refused("/Patient/$export?patient=Patient/" + id, "IND-0104");
  }

  @Test
  void more_exports_than_may_be_unfinished_are_refused_for_a_while() throws Exception {
    server.close();
    try (StuckStore store = new StuckStore();
        ExportServer stuck =
            new ExportServer(store, new MemoryExportJobs(), folder.resolve("stuck"))) {
      stuck.begin("/$export");
      String second = stuck.begin("/$export");
      HttpResponse<String> third = stuck.http.get("/$export");
      assertThat(third.statusCode()).isEqualTo(429);
      assertThat(third.headers().firstValue("Retry-After")).contains("10");
      assertThat(third.body()).contains("OperationOutcome").contains("IND-0270");
      assertThat(stuck.http.send("DELETE", second).statusCode()).isEqualTo(202);
      assertThat(stuck.http.get("/$export").statusCode()).isEqualTo(202);
      store.release();
    }
    open();
  }

  @Test
  void other_methods_are_not_allowed() throws Exception {
    HttpResponse<String> answer = server.http.send("DELETE", "/$export");
    assertThat(answer.statusCode()).isEqualTo(405);
    assertThat(answer.body()).contains("OperationOutcome");
  }

  @Test
  void an_answer_in_another_format_is_not_acceptable() throws Exception {
    HttpResponse<String> answer = server.http.get("/$export", "Accept", "application/fhir+xml");
    assertThat(answer.statusCode()).isEqualTo(406);
    assertThat(answer.body()).contains("OperationOutcome");
  }

  @Test
  void the_statement_names_the_operations_and_the_guide() throws Exception {
    JsonNode statement = JSON.readTree(server.http.get("/metadata").body());
    assertThat(statement.get("instantiates"))
        .extracting(JsonNode::textValue)
        .contains("http://hl7.org/fhir/uv/bulkdata/CapabilityStatement/bulk-data");
    String definitions = "http://hl7.org/fhir/uv/bulkdata/OperationDefinition/";
    assertThat(definition(statement.at("/rest/0"))).isEqualTo(definitions + "export");
    for (JsonNode resource : statement.at("/rest/0/resource")) {
      switch (resource.get("type").textValue()) {
        case "Patient" ->
            assertThat(definition(resource)).isEqualTo(definitions + "patient-export");
        case "Group" -> assertThat(definition(resource)).isEqualTo(definitions + "group-export");
        default -> assertThat(definition(resource)).isEqualTo("none");
      }
    }
    assertThat(statement.at("/rest/0/resource"))
        .extracting(resource -> resource.get("type").textValue())
        .containsAll(ALL)
        .contains("Group");
  }

  private static String definition(JsonNode place) {
    for (JsonNode operation : place.path("operation")) {
      if (operation.get("name").textValue().equals("export")) {
        return operation.get("definition").textValue();
      }
    }
    return "none";
  }

  private void refused(String path, String code) throws Exception {
    HttpResponse<String> answer = server.http.get(path);
    assertThat(answer.statusCode()).as(path).isEqualTo(400);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/fhir+json");
    JsonNode outcome = JSON.readTree(answer.body());
    assertThat(outcome.get("resourceType").textValue()).isEqualTo("OperationOutcome");
    assertThat(outcome.at("/issue/0/details/coding/0/code").textValue()).as(path).isEqualTo(code);
  }

  private HttpResponse<String> posted(String path, String parameter) throws Exception {
    return server.http.post(
        path,
        "application/fhir+json",
        "{\"resourceType\":\"Parameters\",\"parameter\":[" + parameter + "]}");
  }

  private String post(String path, String parameter) throws Exception {
    HttpResponse<String> answer = posted(path, parameter);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(202);
    return server.below(answer.headers().firstValue("Content-Location").orElseThrow());
  }
}
