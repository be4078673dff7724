package indwell.intake;

import java.time.Duration;
import java.time.Instant;

/**
 * Between which instants a time must lie, both included.
 *
 * @param latest {@link Instant#MAX} for no limit
 */
record TimeLimits(Instant earliest, Instant latest) {
  /** Nothing that this service records happened earlier (contract, section 2). */
  static final Instant FIRST = Instant.parse("2000-01-01T00:00:00Z");

  /** How far the clocks of senders may be ahead. */
  static final Duration TOLERATED_LEAD = Duration.ofMinutes(5);

  /**
   * FHIR writes years from 0001. A day is kept clear of it, so that an offset cannot lead out
   * again.
   */
  static final TimeLimits WRITABLE =
      new TimeLimits(Instant.parse("0001-01-02T00:00:00Z"), Instant.MAX);

  static TimeLimits at(Instant now) {
    return new TimeLimits(FIRST, now.plus(TOLERATED_LEAD));
  }

  /** Limits for what was accepted before, whatever the clock says now. */
  static TimeLimits ofStored() {
    return new TimeLimits(FIRST, Instant.MAX);
  }
}
