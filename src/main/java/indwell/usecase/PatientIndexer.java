package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.timeline.CountedTime;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.PlacementEnd.How;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/** Tells the store which wards and moments a patient's timeline concerns. */
final class PatientIndexer {
  /** Counts up whenever the same timeline gives another index. */
  static final int VERSION = 2;

  private PatientIndexer() {}

  static PatientIndex of(Timeline timeline) {
    boolean doubtful = !timeline.remarks().isEmpty();
    List<WardSpan> wards = new ArrayList<>();
    timeline.wards().forEach(stay -> wards.add(span(stay, doubtful)));
    Set<EventKey> effective =
        timeline.wards().stream().map(WardStay::by).collect(Collectors.toSet());
    for (BedsideEvent event : timeline.events()) {
      if (event instanceof Arrival arrival && !effective.contains(arrival.key())) {
        wards.add(
            new WardSpan(
                arrival.ward(), arrival.inpatient(), arrival.at(), arrival.at(), doubtful));
      }
    }
    return new PatientIndex(
        wards,
        timeline.placements().stream().map(PatientIndexer::span).toList(),
        CountedTime.of(timeline));
  }

  private static WardSpan span(WardStay stay, boolean doubtful) {
    return new WardSpan(
        stay.ward(),
        stay.inpatient(),
        stay.span().start(),
        stay.span().end().orElse(Instant.MAX),
        doubtful);
  }

  /** A catheter concerns every moment until it is out and its removal is on record. */
  private static CatheterSpan span(Placement placement) {
    return new CatheterSpan(
        placement.start(), placement.end().map(PatientIndexer::until).orElse(Instant.MAX));
  }

  private static Instant until(PlacementEnd end) {
    return end.how() == How.DISCHARGED
        ? end.recordedLater().map(BedsideEvent::at).orElse(Instant.MAX)
        : end.at();
  }
}
