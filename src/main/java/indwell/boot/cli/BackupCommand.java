package indwell.boot.cli;

import indwell.adapter.store.sqlite.SqliteBackup;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Copies the embedded database while the service runs. */
@Command(
    name = "backup",
    description =
        "Copies the embedded database, as it stands at one moment, to a new file; the service may"
            + " run meanwhile.",
    mixinStandardHelpOptions = true)
final class BackupCommand implements Callable<Integer> {
  @CommandLine.Option(
      names = "--data-dir",
      paramLabel = "FOLDER",
      defaultValue = "${env:INDWELL_DATA_DIR:-./data}",
      description = "The data folder of the service (default: ${DEFAULT-VALUE}).")
  private Path dataDir;

  @CommandLine.Parameters(paramLabel = "FILE", description = "The new file.")
  private Path target;

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  @Override
  public Integer call() {
    try {
      long events = SqliteBackup.copy(dataDir, target);
      spec.commandLine().getErr().println(events + " versions of events are in " + target + ".");
      return IndwellCommand.FINE;
    } catch (NoSuchFileException none) {
      throw new UnusablePath("There is no database " + none.getFile() + ".", none);
    } catch (FileAlreadyExistsException there) {
      throw new UnusablePath(
          "The file " + there.getFile() + " is there already; a backup replaces nothing.", there);
    } catch (SQLException failed) {
      throw new UnusablePath("The database could not be copied to " + target + ".", failed);
    }
  }
}
