package indwell.web.page;

import java.util.Optional;

/**
 * What a browser says of where a request comes from. A form is taken only from a page of this
 * service; one that says neither is not taken, for every browser says at least one.
 *
 * @param own scheme, host and port that the request was sent to
 * @param origin header {@code Origin} (RFC 6454)
 * @param site header {@code Sec-Fetch-Site} (W3C Fetch Metadata)
 */
public record SameOrigin(String own, Optional<String> origin, Optional<String> site) {

  /** Whether every word of the browser says that the form is ours, and it says at least one. */
  public boolean holds() {
    boolean told = origin.isPresent() || site.isPresent();
    return told
        && origin.filter(from -> !from.equalsIgnoreCase(own)).isEmpty()
        && site.filter(from -> !from.equals("same-origin")).isEmpty();
  }
}
