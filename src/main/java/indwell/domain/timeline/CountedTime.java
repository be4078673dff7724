package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableSet;
import java.util.TreeSet;

/**
 * Time of one patient in an inpatient ward, with a catheter that counts for surveillance throughout
 * or without one throughout. The denominator is a point count of these times, whatever the zone and
 * the count time, so they can be kept and counted without reading the events again.
 *
 * @param withCatheter whether {@link Timeline#catheterDayAt} holds at every instant of it
 */
public record CountedTime(Ward ward, Span span, boolean withCatheter) {

  /** The times of a patient, ascending, without overlap and none of them empty. */
  public static List<CountedTime> of(Timeline timeline) {
    NavigableSet<Instant> changes = changes(timeline);
    List<CountedTime> times = new ArrayList<>();
    for (WardStay stay : timeline.wards()) {
      if (stay.inpatient() && !stay.span().isEmpty()) {
        cut(stay, changes, timeline, times);
      }
    }
    return times;
  }

  /** The instants at which a catheter that counts may come or go. */
  private static NavigableSet<Instant> changes(Timeline timeline) {
    NavigableSet<Instant> changes = new TreeSet<>();
    for (Placement placement : timeline.placements()) {
      if (placement.placing().countsForSurveillance()) {
        add(changes, placement.span());
        placement.rests().forEach(rest -> add(changes, rest));
      }
    }
    return changes;
  }

  private static void add(NavigableSet<Instant> changes, Span span) {
    changes.add(span.start());
    span.end().ifPresent(changes::add);
  }

  private static void cut(
      WardStay stay, NavigableSet<Instant> changes, Timeline timeline, List<CountedTime> times) {
    Instant from = stay.span().start();
    boolean with = timeline.catheterDayAt(from);
    for (Instant change : changes.tailSet(from, false)) {
      if (stay.span().holds(change)) {
        boolean now = timeline.catheterDayAt(change);
        if (now != with) {
          times.add(new CountedTime(stay.ward(), Span.between(from, change), with));
          from = change;
          with = now;
        }
      }
    }
    times.add(new CountedTime(stay.ward(), new Span(from, stay.span().end()), with));
  }
}
