package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A search takes the modifiers and prefixes that the SearchParameter of {@code fhir-profiles}
 * lists, and refuses every other of R4
 * (https://hl7.org/fhir/R4/valueset-search-modifier-code.html).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SearchParameterFilesTest {
  private static final List<String> MODIFIERS =
      List.of(
          "missing",
          "exact",
          "contains",
          "not",
          "text",
          "in",
          "not-in",
          "below",
          "above",
          "type",
          "identifier",
          "ofType");

  private static final List<String> COMPARATORS =
      List.of("eq", "ne", "gt", "lt", "ge", "le", "sa", "eb", "ap");

  static List<JsonNode> files() throws IOException {
    List<JsonNode> all = new ArrayList<>();
    try (Stream<Path> files = Files.list(Path.of("fhir-profiles"))) {
      for (Path file : files.sorted().toList()) {
        if (file.getFileName().toString().startsWith("SearchParameter-")) {
          all.add(new ObjectMapper().readTree(file.toFile()));
        }
      }
    }
    return all;
  }

  @ParameterizedTest
  @MethodSource("files")
  void a_search_takes_what_the_file_lists_and_nothing_else(JsonNode file) throws Exception {
    try (FhirServer server = new FhirServer()) {
      server.recordStay();
      for (JsonNode base : file.get("base")) {
        Asked asked =
            new Asked(server, "/" + base.asText() + "?" + file.get("code").asText(), file);
        assertThat(MODIFIERS.stream().filter(asked::takesModifier))
            .containsExactlyInAnyOrderElementsOf(listed(file, "modifier"));
        assertThat(COMPARATORS.stream().filter(asked::takesPrefix))
            .containsExactlyInAnyOrderElementsOf(listed(file, "comparator"));
        String value = asked.value();
        assertThat(asked.takes("=" + value + "," + value))
            .isEqualTo(file.get("multipleOr").asBoolean());
        assertThat(asked.takes("=" + value + "&" + file.get("code").asText() + "=" + value))
            .isEqualTo(file.get("multipleAnd").asBoolean());
      }
    }
  }

  private static Set<String> listed(JsonNode file, String field) {
    Set<String> listed = new TreeSet<>();
    file.path(field).forEach(one -> listed.add(one.asText()));
    return listed;
  }

  private record Asked(FhirServer server, String path, JsonNode file) {
    boolean takes(String rest) {
      try {
        return server.get(path + rest).statusCode() == 200;
      } catch (Exception e) {
        throw new IllegalStateException(path + rest, e);
      }
    }

    String value() {
      return switch (file.get("type").asText()) {
        case "date" -> "2026-03-01";
        case "reference" -> file.at("/target/0").asText() + "/x";
        default -> "active";
      };
    }

    boolean takesModifier(String modifier) {
      return switch (modifier) {
        case "missing" -> takes(":missing=true");
        // The modifier is the name of a type.
        case "type" -> takes(":" + file.path("target").path(0).asText("Device") + "=x");
        case "identifier" -> takes(":identifier=urn:a%7Cb");
        default -> takes(":" + modifier + "=" + value());
      };
    }

    /** Only dates have prefixes; in front of another value, one is a part of it. */
    boolean takesPrefix(String prefix) {
      return file.get("type").asText().equals("date") && takes("=" + prefix + value());
    }
  }
}
