package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * The three forms of a report say the same, in the order of the input, with any number of threads.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ValidateFormatsTest {
  private static final String SOUND = "{\"resourceType\":\"Patient\",\"id\":\"p1\"}";
  private static final String BROKEN = "{\"resourceType\":\"Patient\",\"gender\":\"<&]]>\\u0001\"}";

  @TempDir Path folder;

  @BeforeEach
  void write() throws Exception {
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      lines.add(i % 3 == 0 ? BROKEN : SOUND.replace("p1", "p" + i));
    }
    Files.write(folder.resolve("b.ndjson"), lines);
    Files.writeString(
        folder.resolve("a.json"), Files.readString(invalid("catheter-ward-ind-set-1")));
    Files.writeString(folder.resolve("c.json"), "{");
  }

  private static Path invalid(String name) {
    return Path.of("fhir-profiles/cases/invalid", name + ".json");
  }

  private String report(Report.Format format, int threads) {
    return Ran.report(format, threads, folder).replace(folder + "/", "");
  }

  @Test
  void the_number_of_threads_changes_nothing() {
    for (Report.Format format : Report.Format.values()) {
      assertThat(report(format, 4)).isEqualTo(report(format, 1));
    }
  }

  @Test
  void text_is_one_line_a_finding_in_the_order_of_the_files() {
    List<String> lines = report(Report.Format.TEXT, 4).lines().toList();
    assertThat(lines.get(0))
        .isEqualTo(
            "a.json:10:6: error invariant Location.extension[0]: Invariant ind-set-1 does not hold;"
                + " expected: The entry sets something beside its date. (invariant ind-set-1 of"
                + " https://indwell.example/fhir/StructureDefinition/catheter-ward-settings|0.1.0)");
    assertThat(lines)
        .filteredOn(line -> line.startsWith("b.ndjson:"))
        .extracting(line -> line.substring(0, line.indexOf(':', 9)))
        .hasSizeGreaterThanOrEqualTo(20)
        .startsWith("b.ndjson:1")
        .endsWith("b.ndjson:58");
    assertThat(lines.get(lines.size() - 1)).startsWith("c.json:1:2: fatal structure: IND-0001");
  }

  @Test
  void json_is_one_object_a_resource_sound_ones_too() throws Exception {
    List<JsonNode> all = new ArrayList<>();
    for (String line : report(Report.Format.JSON, 4).lines().toList()) {
      all.add(new ObjectMapper().readTree(line));
    }
    assertThat(all).hasSize(62);
    assertThat(all).filteredOn(one -> one.get("valid").asBoolean()).hasSize(40);
    JsonNode ward = all.get(0);
    assertThat(ward.get("file").asText()).isEqualTo("a.json");
    assertThat(ward.get("resourceType").asText()).isEqualTo("Location");
    assertThat(ward.get("profiles").get(0).asText()).endsWith("/catheter-ward");
    JsonNode issue = ward.get("issues").get(0);
    assertThat(issue.toString())
        .isEqualTo(
            "{\"severity\":\"error\",\"code\":\"invariant\",\"diagnostics\":\"Invariant ind-set-1 does"
                + " not hold; expected: The entry sets something beside its date.\","
                + "\"expression\":\"Location.extension[0]\",\"line\":10,\"column\":6,"
                + "\"rule\":{\"kind\":\"invariant\",\"name\":\"ind-set-1\",\"profile\":"
                + "\"https://indwell.example/fhir/StructureDefinition/catheter-ward-settings|0.1.0\"}}");
    assertThat(all.get(2).toString())
        .isEqualTo(
            "{\"file\":\"b.ndjson\",\"line\":2,\"resourceType\":\"Patient\",\"id\":\"p1\",\"profiles\":[],"
                + "\"valid\":true,\"issues\":[]}");
    assertThat(all.get(61).has("resourceType")).isFalse();
  }

  /**
   * Not a schema, of which there are several: well formed, and the counts are those of the cases.
   */
  @Test
  void junit_is_one_suite_a_file_and_one_case_a_resource() throws Exception {
    Document xml = parsed(report(Report.Format.JUNIT, 4));
    assertThat(xml.getDocumentElement().getTagName()).isEqualTo("testsuites");
    List<Element> suites = elements(xml.getDocumentElement(), "testsuite");
    assertThat(suites)
        .extracting(suite -> suite.getAttribute("name"))
        .containsExactly("a.json", "b.ndjson", "c.json");
    for (Element suite : suites) {
      List<Element> cases = elements(suite, "testcase");
      assertThat(suite.getAttribute("tests")).isEqualTo("" + cases.size());
      assertThat(suite.getAttribute("failures")).isEqualTo("" + elements(suite, "failure").size());
      assertThat(suite.getAttribute("errors")).isEqualTo("0");
      assertThat(cases)
          .extracting(one -> one.getAttribute("name"))
          .doesNotHaveDuplicates()
          .allMatch(name -> name.startsWith(suite.getAttribute("name") + ":"));
    }
    List<Element> cases = elements(suites.get(1), "testcase");
    assertThat(cases).hasSize(60);
    assertThat(cases.get(1).getAttribute("name")).isEqualTo("b.ndjson:2 Patient/p1");
    assertThat(cases.get(1).getAttribute("classname")).isEqualTo("b.ndjson");
    assertThat(cases.get(1).getAttribute("line")).isEqualTo("2");
    assertThat(elements(cases.get(1), "failure")).isEmpty();
    Element failure = elements(cases.get(0), "failure").get(0);
    assertThat(failure.getAttribute("message")).contains("Code \"<&]]>\\u0001\" is not in the");
    assertThat(failure.getTextContent()).contains("b.ndjson:1:").contains("Patient.gender");
    Element ward = elements(suites.get(0), "testcase").get(0);
    assertThat(elements(ward, "system-out").get(0).getTextContent()).contains(": warning ");
  }

  @Test
  void what_xml_cannot_hold_is_replaced() throws Exception {
    Path odd = Files.writeString(folder.resolve("a\ud83d\ude00\u0007.json"), SOUND);
    String xml = Ran.report(Report.Format.JUNIT, 1, odd);
    assertThat(elements(parsed(xml).getDocumentElement(), "testcase")).hasSize(1);
  }

  private static Document parsed(String xml) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new ByteArrayInputStream(xml.getBytes(StandardCharsets.UTF_8)));
  }

  private static List<Element> elements(Element parent, String name) {
    NodeList nodes = parent.getElementsByTagName(name);
    List<Element> elements = new ArrayList<>();
    for (int i = 0; i < nodes.getLength(); i++) {
      elements.add((Element) nodes.item(i));
    }
    return elements;
  }
}
