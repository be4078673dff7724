package indwell.usecase.export;

import java.time.Duration;

/**
 * How much is exported and how long it is kept.
 *
 * @param unfinished most exports that wait or run at once
 * @param keep how long the files of one that is over can be fetched
 * @param linesPerFile most resources in a file
 * @param page resources read at once
 */
public record ExportLimits(int unfinished, Duration keep, long linesPerFile, int page) {
  /** The same sizes of files and pages for everyone. */
  public static ExportLimits of(int unfinished, Duration keep) {
    return new ExportLimits(unfinished, keep, 200_000, 500);
  }
}
