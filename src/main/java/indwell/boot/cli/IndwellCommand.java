package indwell.boot.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The command line; each command runs without the service. */
@Command(
    name = "indwell",
    description = {
      "Indwelling urinary catheters: bedside events to FHIR R4, catheter days and overdue flags.",
      "Without a command it serves.",
      "Supports, and never replaces, clinical judgement; local policy and licensed practice decide."
    },
    mixinStandardHelpOptions = true,
    version = "indwell 0.1.0",
    subcommands = {
      ValidateCommand.class,
      MapCommand.class,
      DeviceDaysCommand.class,
      BackupCommand.class,
      ReconcileCommand.class
    },
    exitCodeListHeading = "Exit codes:%n",
    exitCodeList = {
      "0:fine",
      "1:at least one error-level finding, refused event or difference",
      "2:an unreadable path or bad arguments"
    })
public final class IndwellCommand implements Runnable {
  /** All is fine. */
  static final int FINE = 0;

  /** At least one error-level finding or refused event. */
  static final int FINDINGS = 1;

  /** An unreadable path or bad arguments. */
  static final int UNUSABLE = 2;

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  /** Runs a command on the standard streams and gives its exit code. */
  public static int run(String... args) {
    return run(
        new PrintWriter(System.out, true, StandardCharsets.UTF_8),
        new PrintWriter(System.err, true, StandardCharsets.UTF_8),
        args);
  }

  static int run(PrintWriter out, PrintWriter err, String... args) {
    CommandLine line = new CommandLine(new IndwellCommand());
    line.setOut(out).setErr(err).setCaseInsensitiveEnumValuesAllowed(true);
    line.setExecutionExceptionHandler(
        (failure, command, parsed) -> {
          if (failure instanceof UnusablePath unusable) {
            err.println(unusable.getMessage());
            return UNUSABLE;
          }
          throw failure;
        });
    int code = line.execute(args);
    out.flush();
    return code;
  }

  /** Reached only by options without a command. */
  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        spec.commandLine(),
        "No command is given; expected validate, map, device-days, backup or reconcile.");
  }
}
