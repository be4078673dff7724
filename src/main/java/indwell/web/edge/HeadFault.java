package indwell.web.edge;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.refusal.Visible;
import indwell.web.access.Denial;
import io.netty.handler.codec.http.HttpRequest;
import io.netty.handler.codec.http.TooLongHttpHeaderException;
import io.netty.handler.codec.http.TooLongHttpLineException;
import java.net.URI;
import java.net.URISyntaxException;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What is wrong with the head of a request before anybody can be asked about it. The server would
 * answer the same status by itself, with nothing behind it.
 */
final class HeadFault {
  private static final int MOST_SHOWN = 60;
  private static final Pattern FIGURE = Pattern.compile("\\d+");

  private HeadFault() {}

  /** The refusal; empty for a head that can be read. */
  static Optional<Denial> of(HttpRequest head) {
    Throwable cause = head.decoderResult().cause();
    if (cause instanceof TooLongHttpLineException) {
      return Optional.of(
          denial(
              414,
              IssueCode.ADDRESS_TOO_LONG,
              "The address is longer than is read; expected at most "
                  + figure(cause)
                  + " bytes, or a search by POST with its parameters as a form."));
    }
    if (cause instanceof TooLongHttpHeaderException) {
      return Optional.of(
          denial(
              431,
              IssueCode.HEADERS_TOO_LARGE,
              "The headers are larger than is read; expected at most "
                  + figure(cause)
                  + " bytes together."));
    }
    if (cause != null) {
      return Optional.of(
          denial(
              400,
              IssueCode.UNREADABLE_HEAD,
              "The head of the request cannot be read; expected one of HTTP/1.1."));
    }
    return isReadable(head.uri()) ? Optional.empty() : Optional.of(unreadable(head.uri()));
  }

  /** By what the framework lets through; what it does not it would answer without a body. */
  private static boolean isReadable(String address) {
    try {
      URI unused = new URI(address);
      return true;
    } catch (URISyntaxException e) {
      return false;
    }
  }

  private static Denial unreadable(String address) {
    return denial(
        400,
        IssueCode.UNREADABLE_HEAD,
        "The address "
            + Visible.quoted(address, MOST_SHOWN)
            + " cannot be read; expected one of RFC 3986, other characters percent-encoded in"
            + " UTF-8.");
  }

  /** The limit stands nowhere else in reach but in the sentence of what broke it. */
  private static String figure(Throwable cause) {
    Matcher figure = FIGURE.matcher(String.valueOf(cause.getMessage()));
    return figure.find() ? figure.group() : "so many";
  }

  private static Denial denial(int status, IssueCode code, String sentence) {
    return new Denial(status, Issue.error(code, "", sentence), Optional.empty());
  }
}
