package indwell.usecase.publish;

import indwell.port.Outbox;
import java.time.Clock;
import java.time.Instant;

/**
 * The right to send, for a while. No request begins that might outlast it, so that two processes
 * never send for one patient, as far as their clocks agree.
 */
final class Lease {
  private final Outbox outbox;
  private final String owner;
  private final Pace pace;
  private final Clock clock;
  private volatile Instant until = Instant.MIN;

  Lease(Outbox outbox, String owner, Pace pace, Clock clock) {
    this.outbox = outbox;
    this.owner = owner;
    this.pace = pace;
    this.clock = clock;
  }

  /** Asks for it, or asks for more time when a third is gone. */
  boolean hold() {
    Instant now = clock.instant();
    if (until.isAfter(now.plus(pace.lease().multipliedBy(2).dividedBy(3)))) {
      return true;
    }
    Instant wanted = now.plus(pace.lease());
    boolean ours = outbox.lead(owner, now, wanted);
    until = ours ? wanted : Instant.MIN;
    return ours;
  }

  boolean held() {
    return until.isAfter(clock.instant());
  }

  boolean lastsForARequest() {
    return until.isAfter(clock.instant().plus(pace.patience()));
  }

  void resign() {
    if (!until.equals(Instant.MIN)) {
      until = Instant.MIN;
      outbox.resign(owner);
    }
  }
}
