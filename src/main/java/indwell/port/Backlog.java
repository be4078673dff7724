package indwell.port;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * How much waits to be sent.
 *
 * @param waiting resources that wait
 * @param unread changes that have not been looked at yet
 * @param oldest when the oldest change that waits was written
 * @param holds lanes that are held, the longest first
 */
public record Backlog(long waiting, long unread, Optional<Instant> oldest, List<LaneHold> holds) {
  public Backlog {
    holds = List.copyOf(holds);
  }
}
