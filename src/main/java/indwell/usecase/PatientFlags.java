package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.FlagHistory;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.FlagMapper;
import indwell.fhir.map.MappingContext;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * The flags of patients: the active ones of now, and the past ones. They are worked out from the
 * events each time, so that they are right at every moment without anybody writing them.
 */
public final class PatientFlags {
  /** So many patients are held in memory at once. */
  private static final int BATCH = 200;

  private final HouseBook book;
  private final MappingContext context;
  private final ClinicalStore store;

  public PatientFlags(ClinicalStore store, Facility facility, MappingContext context) {
    this.store = store;
    this.book = new HouseBook(facility);
    this.context = context;
  }

  private PatientFlags(ClinicalStore store, PatientFlags like) {
    this.store = store;
    this.book = like.book;
    this.context = like.context;
  }

  /** The same of another store. */
  public PatientFlags over(ClinicalStore other) {
    return new PatientFlags(other, this);
  }

  /** All that a patient's catheters have raised up to now. */
  private static List<FlagHistory> histories(HouseRules house, Timeline timeline, Instant now) {
    return FlagHistory.upTo(SettingsTimes.spans(house, timeline), now);
  }

  /** One flag, found by the Device that its id begins with. */
  public Optional<FlagResource> read(String flagId, Instant now) {
    return store.read(state -> read(state, flagId, now));
  }

  private Optional<FlagResource> read(Reading state, String flagId, Instant now) {
    return FlagMapper.deviceIdOf(flagId)
        .flatMap(device -> state.resource(new ResourceKey("Device", device)))
        .stream()
        .flatMap(device -> of(state, List.of(device.patientId()), now).stream())
        .filter(flag -> flag.id().equals(flagId))
        .findFirst();
  }

  /** The flags of these patients, by patient. */
  List<FlagResource> of(Reading state, Collection<String> patientIds, Instant now) {
    List<FlagResource> flags = new ArrayList<>();
    forEach(state, patientIds, now, flags::add);
    return flags;
  }

  /** Walks over the flags of these patients, a batch of patients at a time. */
  void forEach(
      Reading state, Collection<String> patientIds, Instant now, Consumer<FlagResource> visit) {
    HouseRules house = book.read(state);
    List<String> ids = patientIds.stream().distinct().sorted().toList();
    for (int from = 0; from < ids.size(); from += BATCH) {
      List<String> batch = ids.subList(from, Math.min(from + BATCH, ids.size()));
      Map<String, Instant> corrections = state.lastCorrections(batch);
      Map<String, List<StoredEvent>> events = state.currentEvents(batch);
      for (String patientId : batch) {
        FlagFacts facts =
            FlagFacts.of(
                events.getOrDefault(patientId, List.of()),
                Optional.ofNullable(corrections.get(patientId)));
        worked(house, patientId, facts, now).forEach(visit);
      }
    }
  }

  private List<FlagResource> worked(
      HouseRules house, String patientId, FlagFacts facts, Instant now) {
    List<BedsideEvent> events = facts.events();
    if (events.isEmpty()) {
      return List.of();
    }
    return histories(house, Timeline.asOf(events, now), now).stream()
        .map(flag -> FlagResource.of(flag, patientId, facts.lastUpdated(flag), context))
        .toList();
  }
}
