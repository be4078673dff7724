package indwell.usecase.publish;

import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * Whether the other server can be asked at all. What is wrong with the server, with the way to it
 * or with our credentials holds all lanes, and none of them is to blame.
 */
final class Connection {
  private static final Logger LOG = System.getLogger(Connection.class.getName());

  /** So many lanes in a row without an answer are no accident of a lane. */
  private static final int NO_ACCIDENT = 3;

  private final Outbox outbox;
  private final Backoff backoff;
  private Optional<LaneHold> hold = Optional.empty();
  private int failures;

  Connection(Outbox outbox, Backoff backoff) {
    this.outbox = outbox;
    this.backoff = backoff;
  }

  /** Reads anew whether somebody has released it. */
  synchronized void refresh() {
    Optional<LaneHold> now = outbox.held(LaneHold.CONNECTION);
    if (hold.isPresent() && now.isEmpty()) {
      failures = 0;
    }
    hold = now;
  }

  synchronized boolean open(Instant now) {
    return hold.filter(one -> one.holds(now)).isEmpty();
  }

  /** The server has taken something; what was asked for before it asked to be left alone may be. */
  synchronized void worked(Instant now) {
    if (open(now)) {
      failures = 0;
    }
    if (hold.isPresent() && open(now)) {
      outbox.release(LaneHold.CONNECTION);
      hold = Optional.empty();
      LOG.log(Level.INFO, "Publishing goes on.");
    }
  }

  /**
   * Takes note of a failure.
   *
   * @return whether it is the connection's, and not the lane's
   */
  synchronized boolean failed(UpstreamAnswer answer, Instant now) {
    boolean ours =
        switch (answer.kind()) {
          case BUSY, NOT_FHIR, UNAUTHORISED, REDIRECTED -> true;
          case UNKNOWN, TAKEN, CONFLICT, ABSENT, REFUSED -> false;
        };
    if (!ours && answer.kind() != Kind.UNKNOWN) {
      worked(now);
      return false;
    }
    failures++;
    if (answer.kind() == Kind.REDIRECTED) {
      put(answer, now, true, Duration.ZERO);
    } else if (ours) {
      put(answer, now, false, answer.retryAfter().orElseGet(() -> backoff.after(failures)));
    } else if (failures >= NO_ACCIDENT) {
      put(answer, now, false, backoff.after(failures - NO_ACCIDENT + 1));
    }
    return ours;
  }

  private void put(UpstreamAnswer answer, Instant now, boolean parked, Duration wait) {
    Instant since = hold.map(LaneHold::since).orElse(now);
    Duration apart = answer.retryAfter().isPresent() ? backoff.apart() : Duration.ZERO;
    Instant nextTry = now.plus(wait).plus(apart);
    boolean longer = hold.filter(one -> one.parked() || one.nextTry().isAfter(nextTry)).isEmpty();
    if (parked || longer) {
      String reason = parked ? "redirected: " + answer.reason() : answer.reason();
      hold =
          Optional.of(
              new LaneHold(LaneHold.CONNECTION, parked, failures, nextTry, "", reason, since));
      outbox.hold(hold.orElseThrow());
      LOG.log(
          Level.WARNING,
          parked
              ? "Publishing stands still: the server answered {0}. Release it when that is mended."
              : "Publishing waits: the server answered {0}.",
          reason);
    }
  }
}
