package indwell.web;

import io.vertx.core.buffer.Buffer;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * A whole answer, ready to be sent.
 *
 * @param status HTTP status code
 * @param headers names and values; {@code Content-Length} is added when it is sent
 * @param body empty for none
 * @param file sent as the body instead, straight from the disk
 */
public record HttpAnswer(
    int status, Map<String, String> headers, Buffer body, Optional<Path> file) {
  public HttpAnswer {
    headers = Map.copyOf(headers);
  }

  public HttpAnswer(int status, Map<String, String> headers, Buffer body) {
    this(status, headers, body, Optional.empty());
  }

  /** An answer with a body. */
  public static HttpAnswer of(int status, String contentType, Buffer body) {
    return new HttpAnswer(status, Map.of("Content-Type", contentType), body);
  }

  /** The same answer with one more header. */
  public HttpAnswer with(String name, String value) {
    Map<String, String> more = new LinkedHashMap<>(headers);
    more.put(name, value);
    return new HttpAnswer(status, more, body, file);
  }

  /** The same answer with a file as its body. */
  public HttpAnswer withFile(Path path) {
    return new HttpAnswer(status, headers, body, Optional.of(path));
  }

  /** The same answer with another status. */
  public HttpAnswer withStatus(int other) {
    return new HttpAnswer(other, headers, body, file);
  }
}
