package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.Span;

/** Takes times that count, many at once: {@link CountedTime} without an object for each. */
@FunctionalInterface
public interface CountedTimes {

  /**
   * Takes times of patients in one ward, some of which may be empty. A count needs their starts and
   * their ends, but not which end belongs to which start.
   *
   * @param withCatheter whether these are parts with a catheter, instead of the whole times
   * @param starts as in {@link Span#startMillis}, in no particular order
   * @param ends as in {@link Span#endMillis}, as many, in no particular order
   */
  void take(Ward ward, boolean withCatheter, long[] starts, long[] ends);

  /** Takes one. */
  default void take(CountedTime time) {
    take(time.ward(), false, time.span());
    time.withCatheter().ifPresent(part -> take(time.ward(), true, part));
  }

  private void take(Ward ward, boolean withCatheter, Span span) {
    take(ward, withCatheter, new long[] {span.startMillis()}, new long[] {span.endMillis()});
  }
}
