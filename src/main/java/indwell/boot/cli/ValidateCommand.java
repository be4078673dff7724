package indwell.boot.cli;

import indwell.boot.Validators;
import indwell.intake.LineSplitter;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Validates resources from files. */
@Command(
    name = "validate",
    description =
        "Validates FHIR R4 resources against R4 and the profiles that they claim. Prints one line a"
            + " finding: place, severity, code, where in the resource, what.",
    mixinStandardHelpOptions = true)
final class ValidateCommand implements Callable<Integer> {
  private static final int MAX_RESOURCE_BYTES = 16 * 1024 * 1024;

  /** So many resources are validated side by side and then printed in order. */
  private static final int BATCH = 256;

  @CommandLine.Parameters(
      arity = "1..*",
      paramLabel = "PATH",
      description = "Files (JSON or NDJSON) or folders of resources.")
  private List<Path> paths;

  @CommandLine.Option(
      names = "--profile",
      paramLabel = "CANONICAL",
      description = "A further profile that every resource has to meet.")
  private List<String> profiles = List.of();

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  private final List<Resource> waiting = new ArrayList<>();
  private long resources;
  private long errors;

  /** A resource and where it stands: the file and its place in it, from 1. */
  private record Resource(String where, Supplier<byte[]> json) {}

  /** What was found in one. */
  private record Judged(String where, List<Finding> findings) {}

  @Override
  public Integer call() {
    List<Path> files = InputFiles.of(paths);
    ProfileValidator validator = Validators.warm();
    for (String profile : profiles) {
      if (!validator.knows(profile)) {
        throw new CommandLine.ParameterException(
            spec.commandLine(),
            "Profile " + profile + " is not known; expected one of R4 or of fhir-profiles.");
      }
    }
    PrintWriter err = spec.commandLine().getErr();
    try (Progress progress = Progress.of(err, files)) {
      for (Path file : files) {
        read(file, validator);
        flush(validator);
        progress.add(file.toFile().length());
      }
    }
    err.println(resources + " resources validated, " + errors + " errors.");
    return errors == 0 ? IndwellCommand.FINE : IndwellCommand.FINDINGS;
  }

  private void read(Path file, ProfileValidator validator) {
    if (!InputFiles.isNdjson(file)) {
      waiting.add(new Resource(file.toString(), () -> InputFiles.bytes(file)));
      return;
    }
    AtomicInteger place = new AtomicInteger();
    LineSplitter splitter =
        new LineSplitter(
            MAX_RESOURCE_BYTES,
            line -> {
              String where = file + ":" + place.incrementAndGet();
              byte[] json = line.bytes().orElseGet(() -> new byte[0]);
              waiting.add(new Resource(where, () -> json));
              if (waiting.size() >= BATCH) {
                flush(validator);
              }
            });
    InputFiles.pieces(file, splitter::feed);
    splitter.finish();
  }

  private void flush(ProfileValidator validator) {
    waiting.parallelStream()
        .map(
            one ->
                new Judged(one.where(), ResourceJudge.judge(one.json().get(), validator, profiles)))
        .toList()
        .forEach(this::print);
    waiting.clear();
  }

  private void print(Judged judged) {
    resources++;
    for (Finding finding : judged.findings()) {
      errors += finding.isError() ? 1 : 0;
      spec.commandLine()
          .getOut()
          .println(
              judged.where()
                  + ": "
                  + finding.severity().code()
                  + " "
                  + finding.code()
                  + (finding.expression().isEmpty() ? "" : " " + finding.expression())
                  + ": "
                  + finding.message());
    }
  }
}
