package indwell.web;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import io.vertx.core.buffer.Buffer;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A whole answer, ready to be sent.
 *
 * @param status HTTP status code
 * @param headers names and values; {@code Content-Length} is added when it is sent
 * @param body empty for none
 * @param file sent as the body instead, straight from the disk
 * @param reason the code of a refusal or failure, for the log; empty for what was done
 */
public record HttpAnswer(
    int status,
    Map<String, String> headers,
    Buffer body,
    Optional<Path> file,
    Optional<IssueCode> reason) {
  public HttpAnswer {
    headers = Map.copyOf(headers);
  }

  public HttpAnswer(int status, Map<String, String> headers, Buffer body) {
    this(status, headers, body, Optional.empty(), Optional.empty());
  }

  /** An answer with a body. */
  public static HttpAnswer of(int status, String contentType, Buffer body) {
    return new HttpAnswer(status, Map.of("Content-Type", contentType), body);
  }

  /** The same answer with one more header. */
  public HttpAnswer with(String name, String value) {
    Map<String, String> more = new LinkedHashMap<>(headers);
    more.put(name, value);
    return new HttpAnswer(status, more, body, file, reason);
  }

  /** The same answer with a file as its body. */
  public HttpAnswer withFile(Path path) {
    return new HttpAnswer(status, headers, body, Optional.of(path), reason);
  }

  /** The same answer; where it says no, the code of the first of the issues is the reason. */
  public HttpAnswer because(List<Issue> issues) {
    return status < 400
        ? this
        : new HttpAnswer(status, headers, body, file, issues.stream().findFirst().map(Issue::code));
  }

  /** The same answer with another status. */
  public HttpAnswer withStatus(int other) {
    return new HttpAnswer(other, headers, body, file, reason);
  }
}
