package indwell.fhir.search;

import ca.uhn.fhir.model.api.annotation.SearchParamDefinition;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.fhir.map.FhirJson;
import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.reflect.Field;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Where the values of a search parameter stand in a resource, as FHIRPath: for those of R4 by the
 * annotations of the HAPI structures, which are made of R4's own SearchParameters; for ours by
 * their files.
 */
final class Expressions {
  private static final ObjectMapper JSON = new ObjectMapper();

  private Expressions() {}

  static String of(String type, SearchParameter parameter) {
    return parameter
        .definition()
        .map(url -> own(url.substring(url.lastIndexOf('/') + 1)))
        .orElseGet(() -> standard(type, parameter.name()).path());
  }

  /** Kind of the parameter, in lower case. */
  static String kind(String type, SearchParameter parameter) {
    return parameter
        .definition()
        .map(url -> file(url.substring(url.lastIndexOf('/') + 1), "type"))
        .orElseGet(() -> standard(type, parameter.name()).type());
  }

  private static SearchParamDefinition standard(String type, String name) {
    Class<?> model = FhirJson.context().getResourceDefinition(type).getImplementingClass();
    return Arrays.stream(model.getFields())
        .filter(field -> field.isAnnotationPresent(SearchParamDefinition.class))
        .map((Field field) -> field.getAnnotation(SearchParamDefinition.class))
        .filter(definition -> definition.name().equals(name))
        .findFirst()
        .orElseThrow(() -> new AssertionError("R4 has no parameter " + name + " of " + type));
  }

  private static String own(String id) {
    return file(id, "expression");
  }

  private static String file(String id, String field) {
    try {
      return JSON.readTree(new File("fhir-profiles/SearchParameter-" + id + ".json"))
          .get(field)
          .asText();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The parts of the expression that are about the type; R4 writes some for many types at once. */
  static List<String> parts(String type, String expression) {
    return Arrays.stream(expression.split(" \\| "))
        .map(String::trim)
        .filter(part -> part.replace("(", "").startsWith(type + "."))
        // What is referred to need not be at hand: every reference is looked at.
        .map(part -> part.replaceAll("\\.where\\(resolve\\(\\) is [A-Za-z]+\\)", ""))
        .map(part -> part.replaceAll("^\\((\\S+) as (\\S+)\\)$", "$1.ofType($2)"))
        .collect(Collectors.toList());
  }
}
