package indwell.domain.event;

import java.util.Optional;

/**
 * An indication as somebody stated it.
 *
 * @param code the indication
 * @param text what was written beside the code; present whenever the code is {@code other}
 */
public record StatedIndication(Indication code, Optional<String> text) {}
