package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameters;
import indwell.usecase.audit.KeepAudit;
import io.vertx.core.http.HttpMethod;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** {@code docs/audit.md} says what is kept. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditPageTest {
  private static List<List<String>> rows(int cells) throws Exception {
    return Files.readAllLines(Path.of("docs/audit.md")).stream()
        .filter(line -> line.startsWith("| ") && !line.startsWith("|---"))
        .map(line -> Arrays.asList(line.substring(2, line.length() - 2).split(" \\| ", -1)))
        .filter(row -> row.size() == cells)
        .map(row -> row.stream().map(cell -> cell.replace("`", "")).toList())
        .skip(1)
        .toList();
  }

  @Test
  void each_address_leaves_what_its_row_says() throws Exception {
    List<List<String>> rows = rows(5);
    assertThat(rows).hasSizeGreaterThan(20);
    for (List<String> row : rows) {
      Place place = indwell.web.access.Place.of(row.get(0), row.get(1));
      List<String> subtype = place.interaction().subtype();

      assertThat(subtype.isEmpty() ? "none" : subtype.get(2).toLowerCase(Locale.ROOT))
          .as(row.toString())
          .isEqualTo(row.get(2));
      assertThat(place.interaction().action().code()).as(row.toString()).isEqualTo(row.get(3));
      assertThat(place.text()).isEqualTo(row.get(4));
    }
  }

  @Test
  void the_parameters_are_those_of_the_search() throws Exception {
    assertThat(rows(2).stream().map(row -> row.get(0)))
        .containsExactlyInAnyOrderElementsOf(
            SearchParameters.of("AuditEvent").stream().map(SearchParameter::name).toList());
  }

  @Test
  void so_many_rows_may_wait_as_it_says() throws Exception {
    assertThat(Files.readString(Path.of("docs/audit.md")))
        .contains("While %,d rows wait".formatted(KeepAudit.MOST_WAITING));
  }

  @Test
  void figures_and_questions_about_questions_leave_nothing_unless_they_are_refused() {
    assertThat(VisitBook.leavesNothing(HttpMethod.GET, "/metrics", 200)).isTrue();
    assertThat(VisitBook.leavesNothing(HttpMethod.GET, "/metrics", 401)).isFalse();
    assertThat(VisitBook.leavesNothing(HttpMethod.OPTIONS, "/events", 204)).isTrue();
    assertThat(VisitBook.leavesNothing(HttpMethod.OPTIONS, "/events", 403)).isFalse();
    assertThat(VisitBook.leavesNothing(HttpMethod.GET, "/fhir/Patient", 200)).isFalse();
    assertThat(VisitBook.leavesNothing(HttpMethod.DELETE, "/fhir/Device/x", 204)).isFalse();
  }

  @Test
  void an_id_is_kept_where_it_is_ours_or_found_something() {
    String ours = "abcdefghijklmnopqrstuvwx23";
    assertThat(Place.of("GET", "/fhir/Procedure/" + ours).entity(404))
        .contains("Procedure/" + ours);
    assertThat(Place.of("GET", "/fhir/Location/A-1").entity(200)).contains("Location/A-1");
    assertThat(Place.of("GET", "/fhir/Location/A-1").entity(404)).isEmpty();
    assertThat(Place.of("GET", "/patients/" + ours).patient(403)).contains(ours);
    assertThat(Place.of("GET", "/patients/Jane").patient(404)).isEmpty();
    assertThat(Place.of("GET", "/wards/A-1").entity(200)).contains("Location/A-1");
    assertThat(Place.of("POST", "/publishing/parked/Device/x/$skip").entity(200))
        .contains("Device/x");
    assertThat(Place.of("POST", "/surveillance/candidates").entity(200)).isEmpty();
  }
}
