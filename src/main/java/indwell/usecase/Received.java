package indwell.usecase;

import indwell.intake.Reading;
import indwell.port.AuditEntry.Origin;
import java.time.Instant;

/**
 * An event as it came in.
 *
 * @param reading what was read of it
 * @param at the time of receipt
 * @param origin who sent it
 */
public record Received(Reading reading, Instant at, Origin origin) {

  /** One that the service brings along itself. */
  public Received(Reading reading, Instant at) {
    this(reading, at, Origin.SERVICE);
  }
}
