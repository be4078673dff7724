package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.SameContent;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore.HeldEvents;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.trace.Errand;
import indwell.usecase.Replacement.Change;
import indwell.usecase.audit.EventRows;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * Takes events within one transaction, each as if it had one of its own behind those before it.
 * What they need is locked and read for all of them together, and what they change is written at
 * the end: many events cost hardly more round trips to the store than one.
 */
final class Intake {
  private final Writing tx;
  private final Replacement replacement;

  /** Of each event all versions, with those that were taken here. */
  private final Map<EventKey, NavigableMap<Integer, StoredEvent>> versions = new HashMap<>();

  Intake(Writing tx, ProfileValidator validator, MappingContext context) {
    this.tx = tx;
    this.replacement = new Replacement(tx, validator, context);
  }

  /**
   * An event to take.
   *
   * @param canonical its content
   * @param receivedAt when it came in
   * @param origin who sent it
   * @param errand the request that brought it
   */
  record Arrived(
      EventVersion event, String canonical, Instant receivedAt, Origin origin, Errand errand) {
    private Optional<BedsideEvent> stated() {
      return event instanceof Stated one ? Optional.of(one.event()) : Optional.empty();
    }

    private Change after(Optional<StoredEvent> before) {
      return new Change(event, canonical, before);
    }
  }

  /** Takes the events, in their order; a result for each. */
  List<EventResult> take(List<Arrived> events) {
    hold(events);
    List<EventResult> results = new ArrayList<>(events.size());
    events.forEach(one -> results.add(take(one)));
    replacement.write();
    tx.audit(rows(events, results));
    return results;
  }

  private static List<AuditEntry> rows(List<Arrived> events, List<EventResult> results) {
    List<AuditEntry> rows = new ArrayList<>(events.size());
    for (int i = 0; i < events.size(); i++) {
      Arrived one = events.get(i);
      rows.add(EventRows.of(one.origin(), one.event(), one.receivedAt(), results.get(i)));
    }
    return rows;
  }

  private void hold(List<Arrived> events) {
    SortedSet<EventKey> keys = new TreeSet<>();
    events.forEach(one -> keys.add(one.event().key()));
    Set<ResourceKey> wards =
        Replacement.wards(events.stream().flatMap(one -> one.stated().stream()).toList());
    HeldEvents held = tx.holdEvents(keys, wards);
    held.versions().forEach((key, known) -> known.forEach(this::know));
    wards.removeAll(held.resources().keySet());
    List<Change> changes =
        events.stream().map(one -> one.after(highest(one.event().key()))).toList();
    replacement.hold(Replacement.patients(changes), wards);
  }

  private EventResult take(Arrived arrived) {
    EventVersion event = arrived.event();
    NavigableMap<Integer, StoredEvent> known = versions.getOrDefault(event.key(), new TreeMap<>());
    Optional<StoredEvent> same = Optional.ofNullable(known.get(event.version()));
    if (same.isPresent()) {
      return duplicateOrConflict(event, arrived.canonical(), same.get());
    }
    Optional<StoredEvent> highest = highest(event.key());
    Instant now = tx.time(arrived.receivedAt());
    if (highest.isPresent() && highest.get().version() > event.version()) {
      know(replacement.keep(arrived.after(highest), known.values(), now));
      return superseded(event, highest.get());
    }
    List<Change> changes = List.of(arrived.after(highest));
    StoredEvent stored = replacement.step(changes, replacement.after(changes), now).get(0);
    know(stored);
    return EventResult.of(event, Outcome.RECORDED, stored.resources(), List.of());
  }

  private void know(StoredEvent version) {
    versions.computeIfAbsent(version.key(), key -> new TreeMap<>()).put(version.version(), version);
  }

  private Optional<StoredEvent> highest(EventKey key) {
    return Optional.ofNullable(versions.get(key)).map(all -> all.lastEntry().getValue());
  }

  private static EventResult duplicateOrConflict(
      EventVersion event, String canonical, StoredEvent same) {
    if (SameContent.of(same.canonical(), canonical)) {
      return EventResult.of(event, Outcome.DUPLICATE, same.resources(), List.of());
    }
    String diagnostics =
        "Version "
            + event.version()
            + " of event "
            + event.key().token()
            + " is on record with other content; expected the same content or a higher version.";
    return EventResult.of(
        event,
        Outcome.CONFLICT,
        List.of(),
        List.of(Issue.error(IssueCode.VERSION_CONFLICT, "version", diagnostics)));
  }

  private static EventResult superseded(EventVersion event, StoredEvent highest) {
    String diagnostics =
        "Version "
            + event.version()
            + " is kept in the history only; version "
            + highest.version()
            + " of the event is on record.";
    return EventResult.of(
        event,
        Outcome.SUPERSEDED,
        List.of(),
        List.of(Issue.warning(IssueCode.SUPERSEDED, "version", diagnostics)));
  }
}
