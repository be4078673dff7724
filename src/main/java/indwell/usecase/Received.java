package indwell.usecase;

import indwell.intake.Reading;
import indwell.port.AuditEntry.Origin;
import indwell.port.trace.Errand;
import java.time.Instant;

/**
 * An event as it came in.
 *
 * @param reading what was read of it
 * @param at the time of receipt
 * @param origin who sent it
 * @param errand the request that brought it
 */
public record Received(Reading reading, Instant at, Origin origin, Errand errand) {

  /** One of the request that this thread works for. */
  public Received(Reading reading, Instant at, Origin origin) {
    this(reading, at, origin, Errand.current());
  }

  /** One that the service brings along itself. */
  public Received(Reading reading, Instant at) {
    this(reading, at, Origin.SERVICE);
  }
}
