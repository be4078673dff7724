package indwell.web;

import io.vertx.core.buffer.Buffer;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A whole answer, ready to be sent.
 *
 * @param status HTTP status code
 * @param headers names and values; {@code Content-Length} is added when it is sent
 * @param body empty for none
 */
public record HttpAnswer(int status, Map<String, String> headers, Buffer body) {
  public HttpAnswer {
    headers = Map.copyOf(headers);
  }

  /** An answer with a body. */
  public static HttpAnswer of(int status, String contentType, Buffer body) {
    return new HttpAnswer(status, Map.of("Content-Type", contentType), body);
  }

  /** The same answer with one more header. */
  public HttpAnswer with(String name, String value) {
    Map<String, String> more = new LinkedHashMap<>(headers);
    more.put(name, value);
    return new HttpAnswer(status, more, body);
  }
}
