package indwell.boot.cli;

import indwell.boot.cli.ValidationRun.Tally;
import indwell.contract.SharedValidator;
import indwell.port.ProfileValidator;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;

/**
 * What a run left.
 *
 * @param code the exit code
 */
record Ran(int code, String out, String err) {
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  /** The command line, with all that it does. */
  static Ran command(String... arguments) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code = IndwellCommand.run(new PrintWriter(out), new PrintWriter(err, true), arguments);
    return new Ran(code, out.toString(), err.toString());
  }

  /** The report over those paths alone, by one validator for all tests. */
  static String report(Report.Format format, int threads, Path... paths) {
    StringWriter out = new StringWriter();
    run(format, threads, new PrintWriter(out), paths);
    return out.toString();
  }

  static Tally run(Report.Format format, int threads, PrintWriter out, Path... paths) {
    PrintWriter nobody = new PrintWriter(new StringWriter());
    try (Report report = format.open(out);
        Progress progress = new Progress(nobody, 1, false)) {
      return new ValidationRun(new ResourceJudge(VALIDATOR, List.of()), report, progress)
          .over(InputFiles.of(List.of(paths)), threads);
    }
  }
}
