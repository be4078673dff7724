package indwell.boot.cli;

import indwell.domain.refusal.IssueCode;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Severity;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Goes through files, has their resources judged side by side, and reports in the order of the
 * input. Of files with one resource a line only a few lines are held at once.
 */
final class ValidationRun {
  /** Results that wait for a slower one before them, for each thread. */
  private static final int AHEAD = 64;

  private static final long AHEAD_BYTES = 4L * SentText.MOST_BYTES;

  private static final String UNREADABLE =
      "The file cannot be read; expected a JSON or NDJSON file.";

  /** An export may well have found nothing to put into a file. */
  private static final Finding NO_LINES =
      new Finding(
          Severity.WARNING,
          IssueCode.NOTHING_THERE.fhirIssueType(),
          "",
          IssueCode.NOTHING_THERE.code()
              + ": The file holds no resource; expected one a line (NDJSON).");

  private final ResourceJudge judge;
  private final Report report;
  private final Progress progress;
  private long resources;
  private long errors;
  private long warnings;
  private boolean allRead = true;

  ValidationRun(ResourceJudge judge, Report report, Progress progress) {
    this.judge = judge;
    this.report = report;
    this.progress = progress;
  }

  /**
   * What was found, in numbers.
   *
   * @param allRead whether every file could be read to its end
   */
  record Tally(long resources, long errors, long warnings, boolean allRead) {}

  /** A text and what was found in it; the text is dropped, its size is kept for the bar. */
  private record Done(Judged judged, int size) {}

  /** Validates all of it, with so many threads. */
  Tally over(InputFiles input, int threads) {
    try (InOrder<Done> work = new InOrder<>(threads, threads * AHEAD, AHEAD_BYTES, this::take)) {
      for (Path file : input.files()) {
        read(file, work);
      }
      work.finish();
    }
    return new Tally(resources, errors, warnings, allRead);
  }

  private void read(Path file, InOrder<Done> work) {
    long[] texts = {0};
    JsonFile content =
        new JsonFile(
            file,
            SentText.MOST_BYTES,
            SentText.MOST_BYTES,
            whole -> {
              texts[0]++;
              give(SentText.document(file, whole), work);
            },
            line -> {
              texts[0]++;
              give(new SentText(file, line.number(), true, line.bytes()), work);
            });
    try {
      content.read();
      if (texts[0] == 0) {
        tell(file, work, NO_LINES);
      }
    } catch (IOException failure) {
      allRead = false;
      tell(
          file, work, ResourceJudge.fatal(IssueCode.UNREADABLE_FILE, UNREADABLE, Optional.empty()));
    }
  }

  private void give(SentText text, InOrder<Done> work) {
    work.add(text.size(), () -> new Done(judge.judge(text), text.size()));
  }

  private static void tell(Path file, InOrder<Done> work, Finding finding) {
    work.add(0, () -> new Done(Judged.unread(file, 1, finding), 0));
  }

  private void take(Done done) {
    resources += done.judged().type().isEmpty() ? 0 : 1;
    for (Finding finding : done.judged().findings()) {
      errors += finding.isError() ? 1 : 0;
      warnings += finding.severity() == Severity.WARNING ? 1 : 0;
    }
    report.add(done.judged());
    progress.add(done.size());
  }
}
