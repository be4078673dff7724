package indwell.web.edge;

import java.time.Duration;

/**
 * How long a request may take, and a stop.
 *
 * @param head from the first byte of a request, or from the connection, to the end of its head
 * @param whole from the end of the head to the last byte of the answer; streams have no such end
 * @param stop that a stop waits for requests under way
 */
public record EdgeLimits(Duration head, Duration whole, Duration stop) {
  public EdgeLimits {
    require("indwell.requests.head-within", head);
    require("indwell.requests.answered-within", whole);
    require("indwell.stop-within", stop);
  }

  private static void require(String setting, Duration time) {
    if (time.isNegative() || time.isZero()) {
      throw new IllegalArgumentException(
          "Setting " + setting + " is " + time + "; expected a time longer than none.");
    }
  }
}
