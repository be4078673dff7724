package indwell.usecase.export;

import java.time.Duration;

/**
 * How much is exported and how long it is kept.
 *
 * @param unfinished most exports that wait or run at once
 * @param keep how long the files of one that is over can be fetched
 * @param linesPerFile most resources in a file
 * @param page resources read at once
 * @param pause how long an export waits for a store that is away
 */
public record ExportLimits(
    int unfinished, Duration keep, long linesPerFile, int page, Duration pause) {
  /** Resources in a file: some hundred megabytes. */
  public static final long LINES_PER_FILE = 200_000;

  private static final int PAGE = 2_000;
  private static final Duration PAUSE = Duration.ofSeconds(5);

  /** The same sizes of files and pages for everyone. */
  public static ExportLimits of(int unfinished, Duration keep) {
    return new ExportLimits(unfinished, keep, LINES_PER_FILE, PAGE, PAUSE);
  }
}
