package indwell.boot.traces;

/**
 * What became of spans since the start.
 *
 * @param taken by the collector
 * @param failed sent, and not taken
 * @param dropped not sent, since too many waited already
 */
public record SpanCounts(long taken, long failed, long dropped) {
  /** Nothing happened. */
  static final SpanCounts NONE = new SpanCounts(0, 0, 0);
}
