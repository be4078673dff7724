package indwell.port;

import indwell.domain.surveillance.WardMonth;
import java.time.Instant;

/**
 * One version of the facts of a ward and month as it is kept.
 *
 * @param version 1 or more
 * @param recordedAt when the service took it, to the millisecond
 * @param canonical the facts as canonical JSON; two versions have the same content if and only if
 *     these texts are equal
 */
public record StoredFacts(WardMonth month, int version, Instant recordedAt, String canonical) {}
