package indwell.web.edge;

import java.util.HexFormat;
import java.util.concurrent.atomic.AtomicLong;

/** Names for requests, by which an answer and its line in the log find each other. */
final class RequestIds {
  /** FHIR R4, section 3.1.0.16: the id that the server gives a request. */
  static final String HEADER = "X-Request-Id";

  /** Steps as long as this visit every number once (Steele and others, OOPSLA 2014). */
  private static final long STEP = 0x9e3779b97f4a7c15L;

  private final AtomicLong state;

  RequestIds(long seed) {
    state = new AtomicLong(seed);
  }

  /** An id that no other request of this process has: 16 hexadecimal digits. */
  String next() {
    long mixed = state.addAndGet(STEP);
    mixed = (mixed ^ (mixed >>> 30)) * 0xbf58476d1ce4e5b9L;
    mixed = (mixed ^ (mixed >>> 27)) * 0x94d049bb133111ebL;
    return HexFormat.of().toHexDigits(mixed ^ (mixed >>> 31));
  }
}
