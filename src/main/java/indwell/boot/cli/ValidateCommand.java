package indwell.boot.cli;

import indwell.boot.Validators;
import indwell.boot.cli.ValidationRun.Tally;
import indwell.port.ProfileValidator;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Validates resources from files. */
@Command(
    name = "validate",
    description =
        "Validates FHIR R4 resources against R4 and the profiles that they claim, and says of each"
            + " fault where it is, what was expected and which rule of which profile wants it.",
    mixinStandardHelpOptions = true)
final class ValidateCommand implements Callable<Integer> {
  private static final int MOST_THREADS = 256;

  @CommandLine.Parameters(
      arity = "1..*",
      paramLabel = "PATH",
      description = "Files (JSON or NDJSON) or folders of resources; folders are gone through.")
  private List<Path> paths;

  @CommandLine.Option(
      names = "--profile",
      paramLabel = "CANONICAL",
      description = "A further profile that every resource has to meet.")
  private List<String> profiles = List.of();

  @CommandLine.Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description =
          "text: one line a finding; json: one object a resource and line; junit: JUnit XML"
              + " (default: ${DEFAULT-VALUE}).")
  private Report.Format format;

  @CommandLine.Option(
      names = "--threads",
      paramLabel = "N",
      description = "Resources that are validated at once (default: one a processor).")
  private int threads = Runtime.getRuntime().availableProcessors();

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  @Override
  public Integer call() {
    if (threads < 1 || threads > MOST_THREADS) {
      throw bad("--threads is " + threads + "; expected 1 to " + MOST_THREADS + ".");
    }
    InputFiles input = InputFiles.of(paths);
    Tally tally = validate(input, new ResourceJudge(validator(), profiles));
    summarise(input, tally);
    if (!tally.allRead()) {
      return IndwellCommand.UNUSABLE;
    }
    return tally.errors() == 0 ? IndwellCommand.FINE : IndwellCommand.FINDINGS;
  }

  private ProfileValidator validator() {
    ProfileValidator validator = Validators.open(threads);
    for (String profile : profiles) {
      if (!validator.knows(profile)) {
        throw bad("Profile " + profile + " is not known; expected one of R4 or of Indwell.");
      }
    }
    return validator;
  }

  private CommandLine.ParameterException bad(String sentence) {
    return new CommandLine.ParameterException(spec.commandLine(), sentence);
  }

  private Tally validate(InputFiles input, ResourceJudge judge) {
    try (Report report = format.open(spec.commandLine().getOut());
        Progress progress = Progress.of(spec.commandLine().getErr(), input)) {
      return new ValidationRun(judge, report, progress).over(input, threads);
    }
  }

  private void summarise(InputFiles input, Tally tally) {
    PrintWriter err = spec.commandLine().getErr();
    if (!input.passedOver().isEmpty()) {
      err.println(
          "Passed over "
              + counted(input.passedOver().size(), "file")
              + " with a name that ends neither in .json nor in .ndjson or .jsonl, such as "
              + input.passedOver().get(0)
              + ".");
    }
    err.println(
        counted(tally.resources(), "resource")
            + " in "
            + counted(input.files().size(), "file")
            + " validated: "
            + counted(tally.errors(), "error")
            + ", "
            + counted(tally.warnings(), "warning")
            + ".");
  }

  private static String counted(long count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }
}
