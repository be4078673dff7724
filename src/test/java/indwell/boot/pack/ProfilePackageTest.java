package indwell.boot.pack;

import static org.assertj.core.api.Assertions.assertThat;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import ca.uhn.fhir.context.support.IValidationSupport.IssueSeverity;
import ca.uhn.fhir.validation.FhirValidator;
import ca.uhn.fhir.validation.ResultSeverityEnum;
import ca.uhn.fhir.validation.SingleValidationMessage;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.InMemoryTerminologyServerValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.PrePopulatedValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.UnknownCodeSystemWarningValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.r4.model.StructureDefinition;
import org.hl7.fhir.utilities.npm.NpmPackage;
import org.hl7.fhir.utilities.npm.NpmPackage.NpmPackageFolder;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The FHIR package, read by the library's own reader and used by its own validator. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ProfilePackageTest {
  private static final FhirContext FHIR = FhirContext.forR4();
  private static final Path SOURCE = Path.of("fhir-profiles");

  @TempDir private static Path folder;

  private static Path file;
  private static NpmPackage read;

  @BeforeAll
  static void pack() throws Exception {
    file = folder.resolve("package.tgz");
    ProfilePackage.write(SOURCE, file);
    try (InputStream in = Files.newInputStream(file)) {
      read = NpmPackage.fromPackage(in);
    }
  }

  private static Set<String> json(Path folder) throws Exception {
    Set<String> names = new TreeSet<>();
    try (Stream<Path> files = Files.list(folder)) {
      files
          .map(one -> one.getFileName().toString())
          .filter(name -> name.endsWith(".json") && !name.equals("index.json"))
          .forEach(names::add);
    }
    return names;
  }

  @Test
  void the_same_folder_gives_the_same_bytes() throws Exception {
    Path again = folder.resolve("again.tgz");
    ProfilePackage.write(SOURCE, again);
    assertThat(again).hasSameBinaryContentAs(file);
  }

  @Test
  void the_package_says_what_it_is_and_what_it_needs() {
    assertThat(read.name()).isEqualTo("indwell.fhir.r4");
    assertThat(read.version()).isEqualTo("0.1.0");
    assertThat(read.fhirVersionList()).isEqualTo("4.0.1");
    assertThat(read.canonical()).isEqualTo("https://indwell.example/fhir");
    assertThat(read.dependencies()).containsExactly("hl7.fhir.r4.core#4.0.1");
    assertThat(read.license()).isEqualTo("Apache-2.0");
  }

  @Test
  void the_package_holds_every_artifact_and_every_valid_case() throws Exception {
    assertThat(new TreeSet<>(files("package"))).isEqualTo(json(SOURCE));
    assertThat(new TreeSet<>(files("example"))).isEqualTo(json(SOURCE.resolve("cases/valid")));
  }

  private static List<String> files(String folder) throws Exception {
    return read.list(folder).stream()
        .filter(name -> !name.equals("package.json") && !name.startsWith("."))
        .toList();
  }

  /** Each line of the index is what stands in the file. */
  @Test
  void the_index_tells_the_truth() throws Exception {
    Map<String, NpmPackageFolder> folders = read.getFolders();
    for (String name : List.of("package", "example")) {
      JsonNode index =
          new ObjectMapper()
              .readTree(new String(folders.get(name).fetchFile(".index.json"), "UTF-8"));
      assertThat(index.get("index-version").asInt()).isEqualTo(2);
      Map<String, JsonNode> byFile = new TreeMap<>();
      index.get("files").forEach(one -> byFile.put(one.get("filename").asText(), one));
      assertThat(new ArrayList<>(byFile.keySet()))
          .isEqualTo(new ArrayList<>(files(name)).stream().sorted().toList());
      for (String file : byFile.keySet()) {
        JsonNode resource = new ObjectMapper().readTree(folders.get(name).fetchFile(file));
        byFile
            .get(file)
            .fields()
            .forEachRemaining(
                field -> {
                  if (!field.getKey().equals("filename")) {
                    assertThat(resource.get(field.getKey()))
                        .as(file + " " + field.getKey())
                        .isEqualTo(field.getValue());
                  }
                });
      }
    }
  }

  @Test
  void every_profile_is_complete() throws Exception {
    for (String name : files("package")) {
      if (name.startsWith("StructureDefinition-")) {
        StructureDefinition profile = (StructureDefinition) resource(name);
        assertThat(profile.getSnapshot().getElement()).as(name).hasSizeGreaterThan(2);
        assertThat(profile.getDifferential().getElement()).as(name).isNotEmpty();
      }
    }
  }

  private static org.hl7.fhir.r4.model.Resource resource(String name) throws Exception {
    try (InputStream in = read.load("package", name)) {
      return (org.hl7.fhir.r4.model.Resource) FHIR.newJsonParser().parseResource(in);
    }
  }

  /** The snippet of docs/profiles/package.md: nothing of ours but the package. */
  private static FhirValidator stock() throws Exception {
    PrePopulatedValidationSupport ours = new PrePopulatedValidationSupport(FHIR);
    for (String name : read.listResources("StructureDefinition", "ValueSet", "CodeSystem")) {
      ours.addResource(FHIR.newJsonParser().parseResource(read.load("package", name)));
    }
    UnknownCodeSystemWarningValidationSupport foreign =
        new UnknownCodeSystemWarningValidationSupport(FHIR);
    foreign.setNonExistentCodeSystemSeverity(IssueSeverity.INFORMATION);
    ValidationSupportChain chain =
        new ValidationSupportChain(
            ours,
            new DefaultProfileValidationSupport(FHIR),
            new CommonCodeSystemsTerminologyService(FHIR),
            new InMemoryTerminologyServerValidationSupport(FHIR),
            foreign);
    chain.setCodeableConceptValidationSuccessfulIfNotAllCodingsAreValid(true);
    FhirInstanceValidator validator = new FhirInstanceValidator(chain);
    validator.setAssumeValidRestReferences(true);
    return FHIR.newValidator().registerValidatorModule(validator);
  }

  @Test
  void a_stock_validator_with_the_package_alone_knows_good_from_bad() throws Exception {
    FhirValidator stock = stock();
    for (String name : files("example")) {
      String json = new String(read.getFolders().get("example").fetchFile(name), "UTF-8");
      assertThat(errors(stock, json)).as(name).isEmpty();
    }
    int refused = 0;
    try (Stream<Path> cases = Files.list(SOURCE.resolve("cases/invalid"))) {
      for (Path one : cases.filter(file -> file.toString().endsWith(".json")).sorted().toList()) {
        assertThat(errors(stock, Files.readString(one))).as(one.toString()).isNotEmpty();
        refused++;
      }
    }
    assertThat(refused).isGreaterThan(70);
  }

  private static List<String> errors(FhirValidator stock, String json) {
    return stock.validateWithResult(json).getMessages().stream()
        .filter(one -> one.getSeverity().ordinal() >= ResultSeverityEnum.ERROR.ordinal())
        .map(SingleValidationMessage::getMessage)
        .toList();
  }
}
