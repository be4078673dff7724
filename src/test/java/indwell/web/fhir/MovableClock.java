package indwell.web.fhir;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** Stands still until it is told to go on. */
final class MovableClock extends Clock {
  private volatile Instant now;

  MovableClock(Instant now) {
    this.now = now;
  }

  void advance(Duration by) {
    now = now.plus(by);
  }

  @Override
  public ZoneId getZone() {
    return ZoneOffset.UTC;
  }

  @Override
  public Clock withZone(ZoneId zone) {
    throw new UnsupportedOperationException();
  }

  @Override
  public Instant instant() {
    return now;
  }
}
