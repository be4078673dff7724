package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.docs.PrettyJson;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.model.StructureDefinition;

/** The files of {@code fhir-profiles}, and one validator for all tests of this package. */
final class Cases {
  static final Path ROOT = Path.of("fhir-profiles");
  static final Path VALID = ROOT.resolve("cases/valid");
  static final Path INVALID = ROOT.resolve("cases/invalid");
  static final ObjectMapper JSON = new ObjectMapper();
  static final FhirContext FHIR = FhirContext.forR4();
  static final HapiProfileValidator VALIDATOR = HapiProfileValidator.open(FHIR, 2);

  /** With all that the definitions say. */
  static final IWorkerContext COMPLETE = DefinitionSet.complete(FHIR).context();

  private Cases() {}

  /** The whole definition with that canonical URL. */
  static StructureDefinition definition(String canonical) {
    return Objects.requireNonNull(
        COMPLETE.fetchResource(StructureDefinition.class, canonical), canonical);
  }

  static List<Path> files(Path folder, String suffix) {
    try (Stream<Path> all = Files.list(folder)) {
      return all.filter(file -> file.toString().endsWith(suffix)).sorted().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Conformance resources, without the index. */
  static List<Path> conformance() {
    return files(ROOT, ".json").stream().filter(file -> !name(file).equals("index.json")).toList();
  }

  static String name(Path file) {
    return file.getFileName().toString();
  }

  static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static JsonNode json(Path file) {
    try {
      return JSON.readTree(bytes(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static byte[] bytes(JsonNode node) {
    try {
      return JSON.writeValueAsBytes(node);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static String pretty(JsonNode node) {
    return PrettyJson.of(node);
  }

  /** Ids of the profiles on resources. */
  static List<String> profileIds() {
    return conformance().stream()
        .map(Cases::json)
        .filter(one -> one.path("resourceType").asText().equals("StructureDefinition"))
        .filter(one -> one.path("kind").asText().equals("resource"))
        .map(one -> one.path("id").asText())
        .toList();
  }
}
