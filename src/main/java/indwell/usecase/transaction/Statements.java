package indwell.usecase.transaction;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.bundle.TakenProfile.Role;
import indwell.fhir.map.ResourceId;
import indwell.usecase.transaction.Entry.Verb;
import indwell.usecase.transaction.Preparation.Prepared;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Resource;

/** What the entries say of events: what each of them is from now on, or that it is taken back. */
final class Statements {
  private final Scene scene;
  private final Map<EventKey, Statement> all = new LinkedHashMap<>();

  /**
   * @param entry the entry that says it
   * @param event bare; empty when it is taken back
   * @param create whether it may not be known with other content
   */
  record Statement(Entry entry, EventKey key, Optional<BedsideEvent> event, boolean create) {}

  Statements(Scene scene, Prepared prepared) {
    this.scene = scene;
    Problems problems = new Problems();
    problems.each(prepared.deletions(), this::delete);
    List<Taken> taken = prepared.taken().stream().filter(scene::counts).toList();
    problems.each(taken, one -> takeWhole(one));
    problems.each(prepared.deletions(), this::deletePart);
    problems.each(taken, one -> takePart(one));
    problems.end();
  }

  Collection<Statement> all() {
    return List.copyOf(all.values());
  }

  Set<EventKey> keys() {
    return Set.copyOf(all.keySet());
  }

  private void delete(Deletion deletion) {
    Optional<Resource> live = deletion.id().flatMap(scene::live);
    if (live.isPresent()) {
      Role role = Deletion.profile(deletion.entry(), live.get()).role();
      takeBack(deletion.entry(), role, live.get());
    }
  }

  private void takeBack(Entry entry, Role role, Resource live) {
    if (role == Role.MAIN) {
      put(new Statement(entry, keyOf(live), Optional.empty(), false));
    } else if (role == Role.MOVEMENTS) {
      Movements.keys(live).forEach(key -> put(new Statement(entry, key, Optional.empty(), false)));
    }
  }

  private static EventKey keyOf(Resource live) {
    return SentIdentifiers.ofStored(live).orElseThrow().event(live.fhirType());
  }

  private void takeWhole(Taken taken) {
    if (taken.sent().takenBack()) {
      scene.live(taken.id()).ifPresent(live -> takeBack(taken.entry(), taken.role(), live));
      return;
    }
    boolean create = taken.entry().verb() == Verb.POST;
    if (taken.role() == Role.MAIN || taken.role() == Role.MOVEMENTS) {
      for (BedsideEvent event : scene.read(taken.entry(), taken.resource())) {
        put(new Statement(taken.entry(), event.key(), Optional.of(event), create));
      }
    }
    if (taken.role() == Role.MOVEMENTS && !create) {
      Set<EventKey> kept = Set.copyOf(Movements.keys(taken.resource()));
      scene.live(taken.id()).stream()
          .flatMap(live -> Movements.keys(live).stream())
          .filter(key -> !kept.contains(key))
          .forEach(key -> put(new Statement(taken.entry(), key, Optional.empty(), false)));
    }
  }

  private void deletePart(Deletion deletion) {
    deletion
        .id()
        .flatMap(scene::live)
        .filter(Statements::isPart)
        .ifPresent(live -> restate(deletion.entry(), keyOf(live), false));
  }

  /** What cannot be deleted at all has been told by then. */
  private static boolean isPart(Resource live) {
    return TakenProfile.of(live).filter(one -> one.role() == Role.PART).isPresent();
  }

  private void takePart(Taken taken) {
    if (taken.role() == Role.PART) {
      boolean create = taken.entry().verb() == Verb.POST && scene.isLive(taken.id());
      taken.identity().event().ifPresent(key -> restate(taken.entry(), key, create));
    }
  }

  /** Reads an event anew whose parts change; with its main resource in the Bundle it has been. */
  private void restate(Entry entry, EventKey key, boolean create) {
    Optional<Statement> known = Optional.ofNullable(all.get(key));
    if (known.isPresent()) {
      if (create) {
        Statement one = known.get();
        all.put(key, new Statement(one.entry(), key, one.event(), true));
      }
      return;
    }
    Optional<BedsideEvent> current = scene.current(key);
    Resource main =
        current
            .map(ResourceId::mainOf)
            .flatMap(scene::live)
            .orElseThrow(
                () ->
                    entry.refused(
                        422,
                        IssueCode.MADE_BY_NO_EVENT,
                        "resource",
                        "The Procedure that this belongs to makes no event; expected one of this"
                            + " Bundle or of the store."));
    scene.read(entry, main).stream()
        .findFirst()
        .ifPresent(event -> put(new Statement(entry, key, Optional.of(event), create)));
  }

  private void put(Statement statement) {
    Statement before = all.putIfAbsent(statement.key(), statement);
    if (before != null) {
      throw statement
          .entry()
          .refused(
              400,
              IssueCode.RESOURCE_TWICE,
              "resource",
              "Entry "
                  + before.entry().index()
                  + " is about the same event, "
                  + Words.shown(statement.key().token())
                  + "; expected each once.");
    }
  }
}
