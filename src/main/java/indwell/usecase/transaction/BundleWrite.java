package indwell.usecase.transaction;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.fhir.bundle.TakenProfile.Role;
import indwell.fhir.map.MappingContext;
import indwell.port.ClinicalStore.HeldEvents;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import indwell.usecase.PatientState;
import indwell.usecase.Replacement;
import indwell.usecase.Replacement.Change;
import indwell.usecase.transaction.Preparation.Prepared;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;

/** One attempt at a transaction: locks, reads what is current, and writes what changes. */
final class BundleWrite {
  private final Writing tx;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final Instant now;
  private final Prepared prepared;
  private final Set<EventKey> further;

  BundleWrite(
      Writing tx,
      ProfileValidator validator,
      MappingContext context,
      Instant now,
      Prepared prepared,
      Set<EventKey> further) {
    this.tx = tx;
    this.validator = validator;
    this.context = context;
    this.now = now;
    this.prepared = prepared;
    this.further = further;
  }

  List<Answer> run() {
    SortedSet<EventKey> held = keys();
    Set<ResourceKey> wards = Replacement.wards(arrivals());
    HeldEvents known = tx.holdEvents(held, wards);
    wards.removeAll(known.resources().keySet());
    Map<EventKey, StoredEvent> highest = new HashMap<>();
    known
        .versions()
        .forEach((key, versions) -> highest.put(key, versions.get(versions.size() - 1)));
    Replacement replacement = new Replacement(tx, validator, context);
    replacement.hold(patients(highest), wards);

    Scene scene = Scene.of(tx, prepared, highest);
    Preconditions.check(scene, prepared);
    Statements statements = new Statements(scene, prepared);
    requireHeld(held, statements.keys());
    List<Change> changes = new Versions(scene, statements, now).changes();
    Map<String, PatientState> after = replacement.after(changes);
    Agreements agreements =
        new Agreements(scene, statements, prepared.taken(), context, after.values());
    agreements.check();
    if (!changes.isEmpty()) {
      replacement.step(changes, after, now);
      replacement.write();
    }
    return answers(scene, agreements);
  }

  /** Events that the entries name, or that made what they are about. */
  private NavigableSet<EventKey> keys() {
    NavigableSet<EventKey> keys = new TreeSet<>(further);
    Known known = new Known(tx);
    for (Taken taken : prepared.taken()) {
      taken.identity().event().ifPresent(keys::add);
      keys.addAll(Movements.keys(taken.resource()));
    }
    for (Deletion deletion : prepared.deletions()) {
      deletion
          .id()
          .flatMap(known::resource)
          .ifPresent(
              stored -> {
                keys.addAll(Movements.keys(stored));
                SentIdentifiers.ofStored(stored)
                    .filter(Token::isEvent)
                    .ifPresent(token -> keys.add(token.event(stored.fhirType())));
              });
    }
    return keys;
  }

  private static void requireHeld(Set<EventKey> held, Set<EventKey> concerned) {
    Set<EventKey> missing = new HashSet<>(concerned);
    missing.removeAll(held);
    if (!missing.isEmpty()) {
      throw new RecordBundle.MoreEvents(missing);
    }
  }

  private NavigableSet<String> patients(Map<EventKey, StoredEvent> highest) {
    NavigableSet<String> patients = new TreeSet<>();
    prepared.taken().forEach(taken -> taken.patientId().ifPresent(patients::add));
    highest.values().stream()
        .filter(event -> !event.withdrawn())
        .forEach(event -> patients.add(event.patientId()));
    for (Deletion deletion : prepared.deletions()) {
      deletion
          .id()
          .flatMap(id -> tx.resource(Known.key(id)))
          .map(StoredResource::patientId)
          .filter(id -> !id.isEmpty())
          .ifPresent(patients::add);
    }
    return patients;
  }

  /** Wards come from stays alone, which are read without anything that may still change. */
  private List<BedsideEvent> arrivals() {
    Scene scene = Scene.of(tx, prepared, Map.of());
    List<BedsideEvent> arrivals = new ArrayList<>();
    prepared.taken().stream()
        .filter(taken -> taken.role() == Role.MOVEMENTS)
        .forEach(taken -> arrivals.addAll(scene.read(taken.entry(), taken.resource())));
    return arrivals;
  }

  /** What is taken back before it was known leaves nothing to show. */
  private static int status(Scene scene, Taken taken, Optional<StoredResource> resource) {
    if (resource.isEmpty()) {
      return 204;
    }
    return scene.isLive(taken.id()) || taken.sent().takenBack() ? 200 : 201;
  }

  private List<Answer> answers(Scene scene, Agreements agreements) {
    List<ResourceKey> keys = prepared.taken().stream().map(taken -> Known.key(taken.id())).toList();
    Map<ResourceKey, StoredResource> stored = tx.resources(keys);
    List<Answer> answers = new ArrayList<>();
    for (Taken taken : prepared.taken()) {
      Optional<StoredResource> resource = Optional.ofNullable(stored.get(Known.key(taken.id())));
      answers.add(
          new Answer(
              taken.entry().index(),
              status(scene, taken, resource),
              resource,
              agreements.remarks(taken)));
    }
    prepared
        .deletions()
        .forEach(
            one -> answers.add(new Answer(one.entry().index(), 204, Optional.empty(), List.of())));
    answers.sort(Comparator.comparingInt(Answer::index));
    return answers;
  }
}
