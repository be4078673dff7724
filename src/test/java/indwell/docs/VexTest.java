package indwell.docs;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.tngtech.archunit.ArchConfiguration;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What {@code docs/vex.cdx.json} says of known weaknesses in libraries: each "not affected" has a
 * test behind it, each "resolved" the version that mended it.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class VexTest {
  /** Of the libraries names are enough; to read them all takes a minute. */
  private static final JavaClasses OURS =
      ArchConfiguration.withThreadLocalScope(
          configuration -> {
            configuration.setResolveMissingDependenciesFromClassPath(false);
            return new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests())
                .importPackages("indwell");
          });

  private static final Path FILE = Path.of("docs/vex.cdx.json");

  static List<JsonNode> weaknesses() throws Exception {
    JsonNode all = new ObjectMapper().readTree(Files.readString(FILE)).get("vulnerabilities");
    return StreamSupport.stream(all.spliterator(), false).toList();
  }

  private static List<String> properties(JsonNode weakness, String name) {
    List<String> values = new ArrayList<>();
    for (JsonNode property : weakness.get("properties")) {
      if (property.get("name").asText().equals(name)) {
        values.add(property.get("value").asText());
      }
    }
    return values;
  }

  @ParameterizedTest
  @MethodSource("weaknesses")
  void what_does_not_affect_us_has_a_reason_and_a_test(JsonNode weakness) throws Exception {
    List<String> tests = properties(weakness, "indwell:test");
    for (String test : tests) {
      assertThat(isTest(test)).as(test).isTrue();
    }
    switch (weakness.at("/analysis/state").asText()) {
      case "not_affected" -> {
        assertThat(weakness.at("/analysis/justification").asText()).isNotEmpty();
        assertThat(tests).isNotEmpty();
      }
      case "resolved" -> assertThat(properties(weakness, "indwell:fixed-in")).hasSize(1);
      default -> throw new AssertionError("Neither: " + weakness);
    }
  }

  private static boolean isTest(String name) throws ClassNotFoundException {
    String[] parts = name.split("#");
    return Arrays.stream(Class.forName(parts[0]).getDeclaredMethods())
        .filter(method -> method.getName().equals(parts[1]))
        .anyMatch(VexTest::runs);
  }

  private static boolean runs(Method method) {
    return method.isAnnotationPresent(Test.class)
        || method.isAnnotationPresent(ParameterizedTest.class);
  }

  @ParameterizedTest
  @MethodSource("weaknesses")
  void it_speaks_of_the_versions_in_use_and_the_resolved_ones_are_new_enough(JsonNode weakness) {
    Map<String, String> used = versionsInUse();
    for (JsonNode affected : weakness.get("affects")) {
      String[] name = affected.get("ref").asText().replaceFirst(".*/", "").split("@");
      assertThat(used).containsEntry(name[0], name[1]);
      for (String fixedIn : properties(weakness, "indwell:fixed-in")) {
        assertThat(compare(name[1], fixedIn)).as(name[1]).isNotNegative();
      }
    }
  }

  /** Artifact to version, by the names of the jars. */
  private static Map<String, String> versionsInUse() {
    Map<String, String> versions = new HashMap<>();
    for (String jar : System.getProperty("java.class.path").split(":")) {
      String[] parts = Path.of(jar).getFileName().toString().split("-(?=\\d)", 2);
      if (parts.length == 2) {
        versions.put(parts[0], parts[1].replaceFirst("\\.jar$", ""));
      }
    }
    return versions;
  }

  private static int compare(String one, String other) {
    return Arrays.compare(numbers(one), numbers(other));
  }

  private static int[] numbers(String version) {
    return Arrays.stream(version.split("\\.")).mapToInt(Integer::parseInt).toArray();
  }

  @Test
  void no_style_sheet_can_run() {
    assertThatThrownBy(() -> Class.forName("net.sf.saxon.TransformerFactoryImpl"))
        .isInstanceOf(ClassNotFoundException.class);
    noClasses()
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("javax.xml.transform..", "net.sf.saxon..")
        .check(OURS);
  }

  /** The validator's HTTP service, and its way to the network, but for the switch that shuts it. */
  @Test
  void nothing_of_ours_uses_the_web_of_the_library() {
    noClasses()
        .should()
        .dependOnClassesThat()
        .haveNameMatching("org\\.hl7\\.fhir\\.validation\\.(FhirValidatorHttpService|http\\.).*")
        .orShould()
        .dependOnClassesThat()
        .haveNameMatching("org\\.hl7\\.fhir\\.utilities\\.http\\.(?!ManagedWebAccess).*")
        .check(OURS);
  }

  /** Policies by path are what the weakness passes by; access is decided by each route instead. */
  @Test
  void no_path_is_let_through_by_its_spelling() throws Exception {
    assertThat(Files.readString(Path.of("src/main/resources/application.properties")))
        .doesNotContain("quarkus.http.auth.permission")
        .doesNotContain("quarkus.http.auth.policy");
  }
}
