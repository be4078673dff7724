package indwell.domain.event;

import java.time.Instant;
import java.util.Optional;

/**
 * What every event says of itself.
 *
 * @param key source and event id
 * @param version 1 or more; a higher version replaces a lower one
 * @param occurredAt when it happened at the bedside, to the millisecond
 * @param patient whom it happened to
 * @param recorder who recorded it
 */
public record Envelope(
    EventKey key,
    int version,
    Instant occurredAt,
    BusinessId patient,
    Optional<BusinessId> recorder) {}
