package indwell.adapter.store.jdbc;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The scripts are named in code; a script that is not would never run. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MigrationsTest {
  @Test
  void every_script_is_named_in_order() throws IOException {
    List<String> files;
    try (Stream<Path> found = Files.walk(Path.of("src/main/resources/db/migration"))) {
      files =
          found
              .filter(Files::isRegularFile)
              .sorted(Comparator.comparing(Path::getFileName))
              .map(p -> p.getParent().getFileName() + "/" + p.getFileName())
              .toList();
    }
    assertThat(Migrations.SCRIPTS).isEqualTo(files);
  }
}
