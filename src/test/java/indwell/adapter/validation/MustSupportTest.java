package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What is marked must support is there to be found: in a valid case, or in a resource that events
 * ended in, those of an example or random ones.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MustSupportTest {
  private static final List<JsonNode> RESOURCES = resources();

  static Stream<Path> structures() {
    return Cases.conformance().stream()
        .filter(file -> Cases.name(file).startsWith("StructureDefinition-"));
  }

  private static List<JsonNode> resources() {
    List<JsonNode> all = new ArrayList<>();
    Cases.files(Cases.VALID, ".json").forEach(file -> all.add(Cases.json(file)));
    try (Stream<Path> files = Files.walk(Path.of("examples"))) {
      for (Path file : files.filter(one -> one.toString().endsWith(".ndjson")).sorted().toList()) {
        for (String line : Files.readAllLines(file)) {
          JsonNode one = Cases.JSON.readTree(line);
          all.add(one);
          one.path("entry").forEach(entry -> all.add(entry.path("resource")));
        }
      }
      for (byte[] written : Written.atLeast(2_000)) {
        all.add(Cases.JSON.readTree(written));
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return all;
  }

  @ParameterizedTest
  @MethodSource("structures")
  void every_must_support_element_is_written_somewhere(Path file) {
    JsonNode profile = Cases.json(file);
    List<JsonNode> instances = new ArrayList<>();
    RESOURCES.forEach(one -> collect(one, profile, instances));
    assertThat(instances).isNotEmpty();
    JsonNode elements = profile.at("/differential/element");
    int marked = 0;
    for (JsonNode element : elements) {
      if (element.path("mustSupport").asBoolean()) {
        marked++;
        assertThat(instances.stream().anyMatch(one -> holds(one, element, elements)))
            .as(element.path("id").asText())
            .isTrue();
      }
    }
    assertThat(marked).isPositive();
  }

  @Test
  void what_is_forbidden_is_not_marked() {
    structures()
        .flatMap(file -> Cases.json(file).at("/differential/element").findParents("max").stream())
        .filter(element -> element.path("max").asText().equals("0"))
        .forEach(element -> assertThat(element.has("mustSupport")).isFalse());
  }

  /** Resources that claim the profile, or extensions that are of it, at any depth. */
  private static void collect(JsonNode node, JsonNode profile, List<JsonNode> instances) {
    String url = profile.path("url").asText();
    boolean claims = node.at("/meta/profile").toString().contains('"' + url + '"');
    if (claims || node.path("url").asText().equals(url)) {
      instances.add(node);
    }
    node.forEach(child -> collect(child, profile, instances));
  }

  private static boolean holds(JsonNode instance, JsonNode element, JsonNode elements) {
    String id = element.path("id").asText();
    String name = id.substring(id.indexOf('.') + 1);
    int colon = name.indexOf(':');
    if (colon >= 0) {
      return anyIsSlice(instance.path(name.substring(0, colon)), id, elements);
    }
    int dot = name.indexOf('.');
    if (dot >= 0) {
      return anyHas(instance.path(name.substring(0, dot)), name.substring(dot + 1));
    }
    if (name.endsWith("[x]")) {
      String choice = name.substring(0, name.length() - 3);
      List<String> names = new ArrayList<>();
      instance.fieldNames().forEachRemaining(names::add);
      return names.stream().anyMatch(one -> one.matches(choice + "[A-Z]\\w*"));
    }
    return instance.has(name);
  }

  /** Whether an element below one of the list, or below the one element that it is, is there. */
  private static boolean anyHas(JsonNode listOrOne, String name) {
    int dot = name.indexOf('.');
    for (JsonNode one : listOrOne.isArray() ? listOrOne : List.of(listOrOne)) {
      boolean there =
          dot < 0
              ? one.has(name)
              : anyHas(one.path(name.substring(0, dot)), name.substring(dot + 1));
      if (there) {
        return true;
      }
    }
    return false;
  }

  /** A slice is known by the URL or the code that an element below it demands. */
  private static boolean anyIsSlice(JsonNode list, String slice, JsonNode elements) {
    for (JsonNode below : elements) {
      String id = below.path("id").asText();
      if (id.startsWith(slice + ".")
          && (below.has("fixedUri") || below.has("patternCodeableConcept"))) {
        String child = id.substring(slice.length() + 1);
        String demanded =
            below.has("fixedUri")
                ? below.path("fixedUri").asText()
                : below.at("/patternCodeableConcept/coding/0/code").asText();
        for (JsonNode one : list) {
          JsonNode found = one.path(child);
          if (found.asText().equals(demanded)
              || found.at("/coding/0/code").asText().equals(demanded)) {
            return true;
          }
        }
      }
    }
    return false;
  }
}
