package indwell.adapter.store.jdbc;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.StringReader;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationState;
import org.flywaydb.core.api.ResourceProvider;
import org.flywaydb.core.api.resource.LoadableResource;
import org.jspecify.annotations.Nullable;

/**
 * Brings the tables to the state that this release expects, and refuses a database that a newer
 * release has been at. The scripts are named one by one: finding them by listing a folder of the
 * class path depends on how the service is packaged.
 */
public final class Migrations {
  static final String FOLDER = "db/migration/";
  private static final String COMMON = "common";

  /** Folder and name, in the order of versions; those of other folders are of one database. */
  static final List<String> SCRIPTS =
      List.of(
          "common/V001__events_resources_whereabouts.sql",
          "common/V010__surveillance_facts.sql",
          "common/V012__search.sql",
          "common/V013__exports.sql",
          "common/V030__export_clients.sql",
          "common/V040__publications.sql",
          "common/V041__counted_times.sql",
          "common/V042__audit.sql",
          "postgres/V043__found_by_reference.sql",
          "common/V045__times_that_count.sql",
          "postgres/V046__found_by_one_row.sql");

  private Migrations() {}

  /**
   * Runs the scripts that are missing, each in a transaction of its own.
   *
   * @throws IllegalStateException if the tables were made by a newer release
   */
  public static void run(DataSource source, Dialect dialect) {
    Flyway flyway =
        Flyway.configure(Migrations.class.getClassLoader())
            .dataSource(source)
            .locations(new String[0])
            .resourceProvider(new Scripts(of(dialect)))
            .placeholders(dialect.placeholders())
            .cleanDisabled(true)
            .load();
    refuseNewer(flyway.info().applied());
    flyway.migrate();
  }

  private static void refuseNewer(MigrationInfo[] applied) {
    Arrays.stream(applied)
        .filter(
            info ->
                info.getState() == MigrationState.FUTURE_SUCCESS
                    || info.getState() == MigrationState.FUTURE_FAILED)
        .findFirst()
        .ifPresent(
            info -> {
              throw new IllegalStateException(
                  "The database was written by a newer release (its tables have version "
                      + info.getVersion()
                      + ", this release knows up to "
                      + newest()
                      + "); start that release, or restore a backup from before the upgrade.");
            });
  }

  private static List<Script> of(Dialect dialect) {
    return SCRIPTS.stream()
        .filter(
            path -> path.startsWith(COMMON + "/") || path.startsWith(dialect.ownScripts() + "/"))
        .map(Script::new)
        .toList();
  }

  /** The number of the last script, as in {@code V013__exports.sql}. */
  private static int newest() {
    String last = nameOf(SCRIPTS.get(SCRIPTS.size() - 1));
    return Integer.parseInt(last.substring(1, last.indexOf('_')));
  }

  private static String nameOf(String path) {
    return path.substring(path.indexOf('/') + 1);
  }

  private record Scripts(List<Script> all) implements ResourceProvider {
    /** Also asked for optional companions of a script; there are none. */
    @Override
    public @Nullable LoadableResource getResource(String name) {
      return all.stream().filter(one -> one.getFilename().equals(name)).findFirst().orElse(null);
    }

    @Override
    public Collection<LoadableResource> getResources(String prefix, String[] suffixes) {
      return all.stream()
          .filter(one -> one.getFilename().startsWith(prefix))
          .filter(one -> Arrays.stream(suffixes).anyMatch(one.getFilename()::endsWith))
          .map(LoadableResource.class::cast)
          .toList();
    }
  }

  private static final class Script extends LoadableResource {
    private final String path;

    Script(String path) {
      this.path = path;
    }

    @Override
    public Reader read() {
      try (InputStream in =
              Objects.requireNonNull(
                  Migrations.class.getClassLoader().getResourceAsStream(FOLDER + path), path);
          Reader reader = new InputStreamReader(in, StandardCharsets.UTF_8)) {
        StringWriter text = new StringWriter();
        reader.transferTo(text);
        return new StringReader(text.toString());
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    @Override
    public String getAbsolutePath() {
      return FOLDER + path;
    }

    @Override
    public String getAbsolutePathOnDisk() {
      return FOLDER + path;
    }

    @Override
    public String getFilename() {
      return nameOf(path);
    }

    @Override
    public String getRelativePath() {
      return nameOf(path);
    }
  }
}
