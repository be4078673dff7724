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
  static final String FOLDER = "db/migration/common/";
  static final List<String> SCRIPTS =
      List.of(
          "V001__events_resources_whereabouts.sql",
          "V010__surveillance_facts.sql",
          "V012__search.sql",
          "V013__exports.sql",
          "V030__export_clients.sql",
          "V040__publications.sql",
          "V041__counted_times.sql",
          "V042__audit.sql");

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
            .resourceProvider(new Scripts())
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

  /** The number of the last script, as in {@code V013__exports.sql}. */
  private static int newest() {
    String last = SCRIPTS.get(SCRIPTS.size() - 1);
    return Integer.parseInt(last.substring(1, last.indexOf('_')));
  }

  private static final class Scripts implements ResourceProvider {
    /** Also asked for optional companions of a script; there are none. */
    @Override
    public @Nullable LoadableResource getResource(String name) {
      return SCRIPTS.contains(name) ? new Script(name) : null;
    }

    @Override
    public Collection<LoadableResource> getResources(String prefix, String[] suffixes) {
      return SCRIPTS.stream()
          .filter(name -> name.startsWith(prefix))
          .filter(name -> Arrays.stream(suffixes).anyMatch(name::endsWith))
          .<LoadableResource>map(Script::new)
          .toList();
    }
  }

  private static final class Script extends LoadableResource {
    private final String name;

    Script(String name) {
      this.name = name;
    }

    @Override
    public Reader read() {
      try (InputStream in =
              Objects.requireNonNull(
                  Migrations.class.getClassLoader().getResourceAsStream(FOLDER + name), name);
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
      return FOLDER + name;
    }

    @Override
    public String getAbsolutePathOnDisk() {
      return FOLDER + name;
    }

    @Override
    public String getFilename() {
      return name;
    }

    @Override
    public String getRelativePath() {
      return name;
    }
  }
}
