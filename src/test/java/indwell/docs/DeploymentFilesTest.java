package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The examples of a deployment name what the service really has. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DeploymentFilesTest {
  private static final Path CONTAINER = Path.of("src/main/container/Containerfile");
  private static final Path CLUSTER = Path.of("docs/kubernetes.yaml");

  private static List<String> found(Path file, String pattern) throws Exception {
    return Pattern.compile(pattern)
        .matcher(Files.readString(file))
        .results()
        .map(MatchResult::group)
        .distinct()
        .toList();
  }

  @Test
  void every_setting_is_documented() throws Exception {
    String documented = Files.readString(Path.of("docs/configuration.md"));
    for (Path file : List.of(CONTAINER, CLUSTER)) {
      assertThat(found(file, "(?:INDWELL|QUARKUS)_[A-Z_]+"))
          .isNotEmpty()
          .allSatisfy(name -> assertThat(documented).contains("`" + name + "`"));
    }
  }

  @Test
  void the_probes_ask_for_the_health_of_the_service() throws Exception {
    assertThat(found(CLUSTER, "path: [^,}]+"))
        .containsExactlyInAnyOrder("path: /q/health/ready", "path: /q/health/live");
  }

  /** What is copied is what the build of Quarkus lays out ({@code BillOfMaterialsIT} walks it). */
  @Test
  void the_container_runs_as_nobody_in_particular_and_starts_the_jar_of_the_build()
      throws Exception {
    assertThat(found(CONTAINER, "COPY \\S+"))
        .containsExactly(
            "COPY target/quarkus-app/lib/",
            "COPY target/quarkus-app/quarkus/",
            "COPY target/quarkus-app/quarkus-run.jar",
            "COPY target/quarkus-app/app/");
    assertThat(found(CONTAINER, "USER \\d+")).containsExactly("USER 10001");
    assertThat(found(CLUSTER, "runAsUser: \\d+")).containsExactly("runAsUser: 10001");
  }

  @Test
  void what_the_container_copies_and_nothing_else_goes_to_its_build() throws Exception {
    List<String> copied =
        found(CONTAINER, "COPY \\S+").stream()
            .map(line -> line.substring("COPY ".length()).replaceFirst("/$", ""))
            .toList();
    List<String> rules =
        Files.readAllLines(Path.of(".dockerignore")).stream()
            .filter(line -> !line.startsWith("#") && !line.isBlank())
            .toList();

    assertThat(rules.get(0)).as("first everything is kept back").isEqualTo("*");
    assertThat(rules.subList(1, rules.size()))
        .containsExactlyInAnyOrderElementsOf(copied.stream().map(path -> "!" + path).toList());
  }
}
