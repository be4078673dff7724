package indwell.web.surveillance;

import indwell.web.MediaType;
import indwell.web.access.Visit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A request below {@code /surveillance}, its body read.
 *
 * @param method {@code GET} for HEAD as well
 * @param path the segments below {@code /surveillance}, as they were sent
 * @param contentType as it was sent
 * @param ifMatch as it was sent
 * @param body empty unless the method has one
 * @param now the service's clock, read once
 * @param visit what the audit trail is told of it
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record SurveillanceRequest(
    String method,
    List<String> path,
    Optional<String> contentType,
    Optional<String> ifMatch,
    byte[] body,
    Instant now,
    Visit visit) {

  /** Whether the body was sent as that media type. */
  boolean sentAs(String type) {
    return contentType
        .flatMap(MediaType::parse)
        .map(MediaType::toString)
        .filter(type::equals)
        .isPresent();
  }
}
