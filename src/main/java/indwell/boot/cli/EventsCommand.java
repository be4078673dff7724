package indwell.boot.cli;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.refusal.Issue;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.RecordEvents;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Callable;
import picocli.CommandLine;

/** A command that takes events from files into a store in memory, and then answers from it. */
abstract class EventsCommand implements Callable<Integer> {
  private static final Set<Outcome> NOT_TAKEN =
      Set.of(Outcome.REFUSED, Outcome.CONFLICT, Outcome.FAILED);

  @CommandLine.Parameters(
      arity = "1..*",
      paramLabel = "PATH",
      description = "Files (JSON or NDJSON) or folders of events.")
  private List<Path> paths;

  @CommandLine.Option(
      names = "--zone",
      defaultValue = "${env:INDWELL_FACILITY_ZONE:-UTC}",
      description = "The facility's time zone, an IANA name (default: ${DEFAULT-VALUE}).")
  private ZoneId zone;

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  @Override
  public Integer call() {
    Instant now = Clock.systemUTC().instant();
    try (ClinicalStore store = new MemoryStore()) {
      RecordEvents recordEvents = new RecordEvents(store, validator(), new MappingContext(zone));
      boolean allTaken = take(recordEvents, now);
      answer(store, now);
      return allTaken ? IndwellCommand.FINE : IndwellCommand.FINDINGS;
    }
  }

  /** What every resource has to pass. */
  abstract ProfileValidator validator();

  /** Prints what the command is for. */
  abstract void answer(ClinicalStore store, Instant now);

  ZoneId zone() {
    return zone;
  }

  PrintWriter out() {
    return spec.commandLine().getOut();
  }

  CommandLine commandLine() {
    return spec.commandLine();
  }

  private boolean take(RecordEvents recordEvents, Instant now) {
    PrintWriter err = spec.commandLine().getErr();
    InputFiles input = InputFiles.of(paths);
    boolean[] allTaken = {true};
    try (Progress progress = Progress.of(err, input)) {
      for (Path file : input.files()) {
        new EventFiles(
                now,
                found -> {
                  EventResult result = recordEvents.record(found.reading(), now);
                  if (NOT_TAKEN.contains(result.outcome())) {
                    allTaken[0] = false;
                    report(err, found.where(), result);
                  }
                })
            .read(file);
        progress.add(file.toFile().length());
      }
    }
    return allTaken[0];
  }

  private static void report(PrintWriter err, String where, EventResult result) {
    for (Issue issue : result.issues()) {
      String place = issue.expression().isEmpty() ? "" : " " + issue.expression();
      err.println(
          where
              + place
              + ": "
              + result.outcome().code()
              + " "
              + issue.code().code()
              + ": "
              + issue.diagnostics());
    }
  }
}
