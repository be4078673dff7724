package indwell.port;

import java.time.Instant;

/**
 * Why nothing of a lane is sent.
 *
 * @param lane id of the patient; empty for the wards
 * @param parked whether it waits for a person rather than for a time
 * @param attempts how often in a row it went wrong
 * @param nextTry when it is tried again by itself, unless it is parked
 * @param resource reference of the resource that went wrong
 * @param reason status and codes of the answer; nothing of a patient
 * @param since when it first went wrong
 */
public record LaneHold(
    String lane,
    boolean parked,
    int attempts,
    Instant nextTry,
    String resource,
    String reason,
    Instant since) {

  /**
   * The hold of all lanes at once: something is wrong with the connection. No patient has that id.
   */
  public static final String CONNECTION = "*";

  /** Whether it holds at the time. */
  public boolean holds(Instant now) {
    return parked || nextTry.isAfter(now);
  }
}
