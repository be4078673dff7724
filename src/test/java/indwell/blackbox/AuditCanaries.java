package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Searches the audit trail, as it is stored and as it is answered, for the {@link Canaries}, and
 * for references to patients where docs/audit.md has none.
 */
final class AuditCanaries {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String OURS = "[a-z2-7]{26}";
  private static final List<String> COLUMNS =
      List.of("client", "person", "roles", "address", "place", "entity", "query", "reason");

  /** Dates are kept where they are the value of a parameter that takes one, and nowhere else. */
  private static final Pattern KEPT =
      Pattern.compile(
          "\\b(birthdate|date|start|end|asof|_since)=("
              + Canaries.DATES.stream().map(Pattern::quote).collect(Collectors.joining("|"))
              + ")");

  private AuditCanaries() {}

  /** In the file of the embedded database, which may be in use. */
  static void assertSilentRows(Path data, String patient) throws Exception {
    int rows = 0;
    int ofPatient = 0;
    try (Connection file =
            DriverManager.getConnection("jdbc:sqlite:" + data.resolve("indwell.db"));
        Statement statement = file.createStatement();
        ResultSet found = statement.executeQuery("SELECT * FROM audit")) {
      while (found.next()) {
        rows++;
        String about = found.getString("patient");
        assertThat(about).matches(OURS + "|");
        ofPatient += !about.isEmpty() && about.equals(patient) ? 1 : 0;
        for (String column : COLUMNS) {
          assertSilent(found.getString(column), about);
        }
      }
    }
    assertThat(rows).isGreaterThan(500);
    assertThat(ofPatient > 3).isEqualTo(!patient.isEmpty());
  }

  /** As AuditEvents, page by page. */
  static void assertSilentAnswers(RunningService service, String patient) throws Exception {
    int events = 0;
    int ofPatient = 0;
    String next = "/fhir/AuditEvent?_count=500";
    while (!next.isEmpty()) {
      JsonNode page = JSON.readTree(service.get(next).body());
      for (JsonNode entry : page.path("entry")) {
        events++;
        ofPatient += assertSilent(entry.get("resource"), patient) ? 1 : 0;
      }
      next = next(page);
    }
    assertThat(events).isGreaterThan(500);
    assertThat(ofPatient).isGreaterThan(3);
  }

  private static String next(JsonNode page) {
    for (JsonNode link : page.path("link")) {
      if (link.get("relation").asText().equals("next")) {
        String url = link.get("url").asText();
        return url.substring(url.indexOf("/fhir/"));
      }
    }
    return "";
  }

  /** Whether it is about that patient. */
  private static boolean assertSilent(JsonNode event, String patient) {
    List<String> patients = new ArrayList<>();
    Iterator<JsonNode> entities = ((ArrayNode) event.withArray("entity")).elements();
    List<String> queries = new ArrayList<>();
    while (entities.hasNext()) {
      JsonNode entity = entities.next();
      String role = entity.at("/role/code").asText();
      if (role.equals("1")) {
        patients.add(entity.at("/what/reference").asText());
        entities.remove();
      } else if (role.equals("24")) {
        queries.add(
            new String(
                Base64.getDecoder().decode(entity.get("query").asText()), StandardCharsets.UTF_8));
      }
    }
    assertThat(patients).hasSizeLessThan(2).allMatch(one -> one.matches("Patient/" + OURS));
    String about = patients.isEmpty() ? "" : patients.get(0).substring("Patient/".length());
    assertThat(event.toString()).doesNotContain("\"Patient/");
    assertSilent(event.toString(), about);
    queries.forEach(query -> assertSilent(query, about));
    return !about.isEmpty() && about.equals(patient);
  }

  private static void assertSilent(String text, String about) {
    String said = KEPT.matcher(text.toLowerCase(Locale.ROOT)).replaceAll("");
    assertThat(said).doesNotContain(Canaries.TEXTS).doesNotContain(Canaries.DATES);
    assertThat(said).doesNotContain("4711").doesNotContainPattern("patient/" + OURS);
    if (!about.isEmpty()) {
      assertThat(said).doesNotContain(about);
    }
  }
}
