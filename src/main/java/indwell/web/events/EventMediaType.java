package indwell.web.events;

import indwell.web.MediaType;
import java.util.Optional;

/** The media types that events are sent as; parameters are ignored. */
enum EventMediaType {
  /** One object or an array. */
  JSON,
  /** One event a line. */
  NDJSON;

  static Optional<EventMediaType> of(Optional<String> contentType) {
    return contentType
        .flatMap(MediaType::parse)
        .map(MediaType::toString)
        .flatMap(EventMediaType::named);
  }

  private static Optional<EventMediaType> named(String name) {
    return switch (name) {
      case "application/json" -> Optional.of(JSON);
      case "application/x-ndjson", "application/ndjson" -> Optional.of(NDJSON);
      default -> Optional.empty();
    };
  }
}
