package indwell.contract;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;

/** A database that a newer release has been at. */
final class NewerRelease {
  /** What that release would have left in the table of migrations. */
  static final String MARK =
      "INSERT INTO flyway_schema_history (installed_rank, version, description, type, script,"
          + " checksum, installed_by, execution_time, success)"
          + " SELECT installed_rank + 906, '907', 'later', type, 'V907__later.sql', 1, installed_by,"
          + " 1, success FROM flyway_schema_history WHERE version = '001'";

  static final String REFUSAL =
      "The database was written by a newer release (its tables have version 907, this release"
          + " knows up to "
          + newest()
          + "); start that release, or restore a backup from before the upgrade.";

  private NewerRelease() {}

  private static int newest() {
    try (Stream<Path> scripts = Files.walk(Path.of("src/main/resources/db/migration"))) {
      return scripts
          .filter(Files::isRegularFile)
          .map(script -> script.getFileName().toString())
          .mapToInt(name -> Integer.parseInt(name.substring(1, name.indexOf('_'))))
          .max()
          .orElseThrow();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
