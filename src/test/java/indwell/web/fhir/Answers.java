package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads answers of the FHIR interface. */
final class Answers {
  private static final ObjectMapper JSON = new ObjectMapper();
  private final FhirServer server;

  Answers(FhirServer server) {
    this.server = server;
  }

  /** The answer to a GET that works. */
  JsonNode get(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(path + ": " + response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  static JsonNode read(String json) throws Exception {
    return JSON.readTree(json);
  }

  /** Where a page says that the next one is, below the base. */
  Optional<String> next(JsonNode bundle) {
    for (JsonNode link : bundle.path("link")) {
      if (link.get("relation").asText().equals("next")) {
        return Optional.of(link.get("url").asText().substring(server.base().length()));
      }
    }
    return Optional.empty();
  }

  /** The resources of a Bundle that were matched or included. */
  static List<JsonNode> resources(JsonNode bundle, String mode) {
    List<JsonNode> resources = new ArrayList<>();
    for (JsonNode entry : bundle.path("entry")) {
      if (entry.at("/search/mode").asText().equals(mode)) {
        resources.add(entry.get("resource"));
      }
    }
    return resources;
  }

  /** {@code Type/id} of the resources that a search matches, in their order. */
  List<String> matches(String path) throws Exception {
    return resources(get(path), "match").stream()
        .map(one -> one.get("resourceType").asText() + "/" + one.get("id").asText())
        .toList();
  }
}
