package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The list of libraries that the build writes is that of the packaged service. The tool that writes
 * it is left out by a build without a network ({@code mvn -o}), and then this is skipped; never in
 * CI.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BillOfMaterialsIT {
  private static final File LIST = new File("target/bom.json");
  private static final Path LIBRARIES = Path.of("target/quarkus-app/lib");

  @Test
  void every_packaged_jar_is_on_the_list() throws Exception {
    assumeTrue(LIST.exists() || System.getenv("CI") != null, "The build had no network");
    Set<String> listed = new TreeSet<>();
    for (JsonNode component : new ObjectMapper().readTree(LIST).get("components")) {
      listed.add(
          component.path("group").asText()
              + "."
              + component.get("name").asText()
              + "-"
              + component.get("version").asText());
    }
    try (Stream<Path> files = Files.walk(LIBRARIES)) {
      assertThat(
              files
                  .map(file -> file.getFileName().toString())
                  .filter(name -> name.endsWith(".jar")))
          .hasSizeGreaterThan(100)
          .allSatisfy(jar -> assertThat(listed).anyMatch(one -> jar.startsWith(one)));
    }
    assertThat(listed).noneMatch(one -> one.contains("duckdb") || one.contains("assertj"));
  }
}
