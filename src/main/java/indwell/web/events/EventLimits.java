package indwell.web.events;

/**
 * How much the event intake takes on at once.
 *
 * @param workers threads that record events
 * @param bodyBytes bytes of objects and arrays in memory
 * @param streams streams at once
 * @param waitingLines lines of one stream that may wait to be recorded
 * @param waitingBytes bytes of these lines
 * @param spoolBytes bytes of unread answers of one stream in memory; more of them go to a file
 */
public record EventLimits(
    int workers, long bodyBytes, int streams, int waitingLines, long waitingBytes, int spoolBytes) {

  /** What a server with a heap of 512 MiB can carry. */
  public static final EventLimits DEFAULT =
      new EventLimits(48, 96L << 20, 64, 256, 512 << 10, 1 << 20);
}
