package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * The events of one patient, read into stays, wards and catheters.
 *
 * <p>A timeline is a function of the set of events alone: the order in which they arrived does not
 * matter, and no clock enters.
 *
 * @param events all of them, in timeline order
 * @param stays ascending by start
 * @param wards time in wards over all stays, ascending, without overlap
 * @param placements ascending by start
 * @param urine measured intervals, ascending by their end
 * @param weights ascending by time
 * @param remarks what is doubtful, ascending by time
 */
public record Timeline(
    List<BedsideEvent> events,
    List<Stay> stays,
    List<WardStay> wards,
    List<Placement> placements,
    List<UrineOutput> urine,
    List<BodyWeight> weights,
    List<Remark> remarks) {
  public Timeline {
    events = List.copyOf(events);
    stays = List.copyOf(stays);
    wards = List.copyOf(wards);
    placements = List.copyOf(placements);
    urine = List.copyOf(urine);
    weights = List.copyOf(weights);
    remarks = List.copyOf(remarks);
  }

  /** Reads the current events of one patient, given in any order. */
  public static Timeline of(Collection<? extends BedsideEvent> currentEvents) {
    List<BedsideEvent> ordered = new ArrayList<>(currentEvents);
    ordered.sort(BedsideEvent.TIMELINE_ORDER);
    return new TimelineReader(Conflicts.OF_THE_FILE).read(ordered);
  }

  /** Reads only what had happened by then; an event exactly at that instant had. */
  public static Timeline asOf(Collection<? extends BedsideEvent> currentEvents, Instant asOf) {
    return of(currentEvents.stream().filter(event -> !event.at().isAfter(asOf)).toList());
  }

  /** Where the patient is at that instant; empty outside any stay. */
  public Optional<WardStay> wardAt(Instant instant) {
    return wards.stream().filter(ward -> ward.span().holds(instant)).findFirst();
  }

  /**
   * Where the patient is when something is done to a catheter at that instant. A discharge at the
   * same instant comes after it, so the ward that it takes the patient from is still the one.
   */
  public Optional<WardStay> wardBeforeDischargeAt(Instant instant) {
    Optional<WardStay> left =
        wards.stream()
            .filter(ward -> ward.span().end().equals(Optional.of(instant)))
            .reduce((earlier, later) -> later);
    return wardAt(instant).or(() -> left);
  }

  /** The latest stay that began at or before the instant. */
  public Optional<Stay> latestStayBegunBy(Instant instant) {
    return stays.stream()
        .filter(stay -> !stay.start().isAfter(instant))
        .reduce((earlier, later) -> later);
  }

  /** The last placement of that catheter; empty when it was never put in place. */
  public Optional<Placement> lastPlacementOf(CatheterId catheter) {
    return placements.stream()
        .filter(placement -> placement.catheter().equals(catheter))
        .reduce((earlier, later) -> later);
  }

  /**
   * The weight that holds at that instant: the latest at or before it; of several at one instant
   * the last in timeline order. Empty before the first.
   */
  public Optional<BodyWeight> weightAt(Instant instant) {
    int known = countUpTo(weights, instant);
    return known == 0 ? Optional.empty() : Optional.of(weights.get(known - 1));
  }

  /** The measured intervals that end between two instants, ascending by their end. */
  public List<UrineOutput> urineEnding(Instant afterExclusive, Instant untilInclusive) {
    int from = countUpTo(urine, afterExclusive);
    return urine.subList(from, Math.max(from, countUpTo(urine, untilInclusive)));
  }

  /** How many of the events, ascending by time, are at or before that instant. */
  private static int countUpTo(List<? extends BedsideEvent> events, Instant instant) {
    int from = 0;
    int to = events.size();
    while (from < to) {
      int middle = (from + to) >>> 1;
      if (events.get(middle).at().isAfter(instant)) {
        to = middle;
      } else {
        from = middle + 1;
      }
    }
    return from;
  }

  /** Whether at least one catheter that counts for surveillance is in place at that instant. */
  public boolean catheterDayAt(Instant instant) {
    return !countedAt(instant).isEmpty();
  }

  /** The catheters in place at that instant that count for surveillance. */
  public List<Placement> countedAt(Instant instant) {
    return placements.stream()
        .filter(one -> one.placing().countsForSurveillance() && one.inPlaceAt(instant))
        .toList();
  }
}
