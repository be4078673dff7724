package indwell.usecase;

import indwell.intake.Reading;
import java.time.Instant;

/**
 * An event as it came in.
 *
 * @param reading what was read of it
 * @param at the time of receipt
 */
public record Received(Reading reading, Instant at) {}
