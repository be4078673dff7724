package indwell.web.surveillance;

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
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record FactsRequest(
    String method,
    List<String> path,
    Optional<String> contentType,
    Optional<String> ifMatch,
    byte[] body,
    Instant now) {}
