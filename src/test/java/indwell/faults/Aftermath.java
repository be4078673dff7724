package indwell.faults;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.domain.event.EventKey;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.ClinicalStore;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What is in a store after its process, its database, its disk or its clock failed.
 *
 * @param acknowledged versions of events that were answered as kept
 * @param found those of them that are there
 * @param duplicated resources that stand for one event identifier twice, and versions kept twice
 * @param differing resources that are not what the kept events make, read into an empty store in
 *     the opposite order, and those of them that are missing
 * @param recounted days and flags that are other ones than those of that store
 * @param disordered versions of resources that are dated before the one that they replace
 * @param unpublished resources that the hospital does not have as they are here, once all is sent
 * @param unaudited events that were answered as kept and have no row in the audit trail
 * @param refusedAgain events sent again that were not answered as kept
 */
record Aftermath(
    int acknowledged,
    int found,
    int duplicated,
    int differing,
    int recounted,
    int disordered,
    int unpublished,
    int unaudited,
    int refusedAgain) {
  static final Aftermath NONE = new Aftermath(0, 0, 0, 0, 0, 0, 0, 0, 0);
  static final String HEADER =
      "acknowledged | found | lost | duplicated | other than replayed | counted otherwise"
          + " | out of order | not published | without audit | not taken again";
  private static final String EVENT = "https://indwell.example/fhir/event|";

  /** A version of an event. */
  record Kept(EventKey key, int version) {}

  Aftermath plus(Aftermath other) {
    return new Aftermath(
        acknowledged + other.acknowledged,
        found + other.found,
        duplicated + other.duplicated,
        differing + other.differing,
        recounted + other.recounted,
        disordered + other.disordered,
        unpublished + other.unpublished,
        unaudited + other.unaudited,
        refusedAgain + other.refusedAgain);
  }

  /** The same, with what the hospital lacks. */
  Aftermath unpublished(int number) {
    return plus(new Aftermath(0, 0, 0, 0, 0, 0, number, 0, 0));
  }

  int lost() {
    return acknowledged - found;
  }

  boolean sound() {
    return equals(new Aftermath(acknowledged, acknowledged, 0, 0, 0, 0, 0, 0, 0));
  }

  /** Cells of a table, as {@link #HEADER} names them. */
  String cells() {
    return Stream.of(
            acknowledged,
            found,
            lost(),
            duplicated,
            differing,
            recounted,
            disordered,
            unpublished,
            unaudited,
            refusedAgain)
        .map(number -> Integer.toString(number))
        .collect(Collectors.joining(" | "));
  }

  /**
   * Looks at the store, then sends again all that may have been under way.
   *
   * @param sent the event bodies that the process may have sent, in their order
   */
  static Aftermath of(ClinicalStore store, Set<Kept> acknowledged, List<String> sent) {
    List<StoredEvent> kept = kept(store, sent);
    Set<Kept> there = kept.stream().map(Aftermath::kept).collect(Collectors.toSet());
    int found = (int) acknowledged.stream().filter(there::contains).count();
    State now = State.of(store);
    State replayed = replayed(kept);
    return new Aftermath(
        acknowledged.size(),
        found,
        kept.size() - there.size() + identifiedTwice(now),
        now.resourcesOtherThan(replayed),
        now.answersOtherThan(replayed),
        now.disordered(),
        0,
        Audits.without(store, acknowledged.stream().map(Kept::key).toList()).size(),
        sentAgain(store, sent));
  }

  private static Kept kept(StoredEvent event) {
    return new Kept(event.key(), event.version());
  }

  private static List<StoredEvent> kept(ClinicalStore store, List<String> sent) {
    Set<EventKey> keys = new TreeSet<>();
    sent.forEach(body -> keys.add(key(body)));
    List<StoredEvent> kept = new ArrayList<>();
    store.read(
        state -> {
          keys.forEach(key -> kept.addAll(state.versionsOf(key)));
          return null;
        });
    return kept;
  }

  static EventKey key(String body) {
    return ((Reading.Accepted) read(body)).version().key();
  }

  private static Reading read(String body) {
    return EventBodies.line(body.getBytes(StandardCharsets.UTF_8), Story.NOW);
  }

  private static State replayed(List<StoredEvent> kept) {
    List<StoredEvent> backwards = new ArrayList<>(kept);
    Collections.reverse(backwards);
    try (ClinicalStore empty = new MemoryStore()) {
      backwards.forEach(event -> record(empty, event.canonical()));
      return State.of(empty);
    }
  }

  private static Outcome record(ClinicalStore store, String body) {
    return new RecordEvents(
            store, new Sender.Passing(point -> {}), new MappingContext(ZoneOffset.UTC))
        .record(read(body), Story.NOW)
        .outcome();
  }

  private static int sentAgain(ClinicalStore store, List<String> sent) {
    Set<Outcome> fine = Set.of(Outcome.RECORDED, Outcome.DUPLICATE, Outcome.SUPERSEDED);
    return (int) sent.stream().filter(body -> !fine.contains(record(store, body))).count();
  }

  /** What was withdrawn keeps its identifier, which may stand for something else since. */
  private static int identifiedTwice(State record) {
    List<String> tokens = new ArrayList<>();
    for (StoredResource stored : record.standing()) {
      for (String token : stored.identifiers()) {
        // A stay is identified by its own system, and two patients may name one.
        if (token.startsWith(EVENT)) {
          tokens.add(stored.key().type() + " " + token);
        }
      }
    }
    return tokens.size() - (int) tokens.stream().distinct().count();
  }
}
