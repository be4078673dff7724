package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;

/**
 * Time of one patient in an inpatient ward, and in it at most one part with a catheter that counts
 * for surveillance. The denominator is a point count of these times, of patients by the whole and
 * of catheters by the parts, whatever the zone and the count time; so they can be kept and counted
 * without reading the events again.
 *
 * @param withCatheter the part of the time throughout which {@link Timeline#catheterDayAt} holds;
 *     not empty
 */
public record CountedTime(Ward ward, Span span, Optional<Span> withCatheter) {

  /**
   * The times of a patient, ascending, without overlap and none of them empty: each stay, cut where
   * a second catheter comes and a third.
   */
  public static List<CountedTime> of(Timeline timeline) {
    NavigableSet<Instant> changes = changes(timeline);
    List<CountedTime> times = new ArrayList<>();
    for (WardStay stay : timeline.wards()) {
      if (stay.inpatient() && !stay.span().isEmpty()) {
        cut(stay, parts(stay.span(), changes, timeline), times);
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

  /** The parts of a stay throughout which a catheter that counts is there. */
  private static List<Span> parts(Span stay, NavigableSet<Instant> changes, Timeline timeline) {
    List<Span> parts = new ArrayList<>();
    Instant from = stay.start();
    boolean with = timeline.catheterDayAt(from);
    for (Instant change : changes.tailSet(from, false)) {
      if (stay.holds(change) && timeline.catheterDayAt(change) != with) {
        if (with) {
          parts.add(Span.between(from, change));
        }
        from = change;
        with = !with;
      }
    }
    if (with) {
      parts.add(new Span(from, stay.end()));
    }
    return parts;
  }

  private static void cut(WardStay stay, List<Span> parts, List<CountedTime> times) {
    Instant from = stay.span().start();
    for (int next = 1; next < parts.size(); next++) {
      Instant cut = parts.get(next).start();
      times.add(
          new CountedTime(stay.ward(), Span.between(from, cut), Optional.of(parts.get(next - 1))));
      from = cut;
    }
    times.add(
        new CountedTime(
            stay.ward(),
            new Span(from, stay.span().end()),
            parts.isEmpty() ? Optional.empty() : Optional.of(parts.get(parts.size() - 1))));
  }
}
