package indwell.domain.surveillance;

import java.util.Optional;

/**
 * How many consecutive months have passed the check, up to and including the last. A month that
 * fails, or that cannot be checked, sets the run back to 0.
 *
 * <p>Source: NHSN chapter 7, Table 2 (rules C17 to C19); that a month without a check breaks the
 * run: derived from "consecutive".
 *
 * @param months passing months in a row
 */
public record ValidationRun(int months) {
  /** Consecutive passing months after which the electronic count may replace the manual one. */
  public static final int ENOUGH = 3;

  /** Before the first month. */
  public static final ValidationRun NONE = new ValidationRun(0);

  /** The run one month later; empty for a month that was not checked. */
  public ValidationRun then(Optional<Boolean> passes) {
    return passes.orElse(false) ? new ValidationRun(months + 1) : NONE;
  }

  /** Whether the electronic count may stand for the manual one from here on. */
  public boolean validated() {
    return months >= ENOUGH;
  }
}
