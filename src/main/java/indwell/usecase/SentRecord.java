package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.timeline.Timeline;
import indwell.port.PatientIndex.WardSpan;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** What somebody sent, to count device days from; it finds what a store would find. */
final class SentRecord implements CountedRecord {
  private final SentEvents sent;
  private final HouseRules house;
  private final Map<String, List<WardSpan>> spans = new HashMap<>();

  SentRecord(SentEvents sent, HouseRules house) {
    this.sent = sent;
    this.house = house;
    sent.byPatient()
        .forEach((id, events) -> spans.put(id, PatientIndexer.of(Timeline.of(events)).wards()));
  }

  @Override
  public HouseRules house() {
    return house;
  }

  @Override
  public boolean knowsWard(Ward ward) {
    return all().anyMatch(span -> span.ward().equals(ward)) || house.describes(ward);
  }

  @Override
  public boolean knowsPatient(String patientId) {
    return sent.byPatient().containsKey(patientId);
  }

  @Override
  public Set<Ward> inpatientWards() {
    return all()
        .filter(WardSpan::inpatient)
        .map(WardSpan::ward)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private Stream<WardSpan> all() {
    return spans.values().stream().flatMap(List::stream);
  }

  @Override
  public void forEach(
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Optional<String> only,
      BiConsumer<String, List<BedsideEvent>> visit) {
    sent.byPatient()
        .forEach(
            (id, events) -> {
              boolean concerned =
                  spans.getOrDefault(id, List.of()).stream()
                      .anyMatch(
                          span ->
                              wards.contains(span.ward())
                                  && span.start().isBefore(endExclusive)
                                  && !span.endExclusive().isBefore(start));
              if (concerned && only.map(id::equals).orElse(true)) {
                visit.accept(id, events);
              }
            });
  }
}
