package indwell.faults;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.event.EventKey;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Resource;

/**
 * What is in a store after its process ended.
 *
 * @param acknowledged versions of events that were answered as kept
 * @param found those of them that are there
 * @param duplicated resources that stand for one event identifier twice, and versions kept twice
 * @param differing resources that are not what the kept events make, read into an empty store in
 *     the opposite order, and those of them that are missing
 * @param refusedAgain events sent again that were not answered as kept
 */
record Aftermath(int acknowledged, int found, int duplicated, int differing, int refusedAgain) {
  static final Aftermath NONE = new Aftermath(0, 0, 0, 0, 0);
  private static final int PAGE = 500;
  private static final String EVENT = "https://indwell.example/fhir/event|";
  private static final String WITHDRAWN = "\"entered-in-error\"";

  /** A version of an event. */
  record Kept(EventKey key, int version) {}

  Aftermath plus(Aftermath other) {
    return new Aftermath(
        acknowledged + other.acknowledged,
        found + other.found,
        duplicated + other.duplicated,
        differing + other.differing,
        refusedAgain + other.refusedAgain);
  }

  int lost() {
    return acknowledged - found;
  }

  boolean sound() {
    return lost() == 0 && duplicated == 0 && differing == 0 && refusedAgain == 0;
  }

  /**
   * Looks at the store, then sends again all that may have been under way.
   *
   * @param sent the event bodies that the process may have sent, in their order
   */
  static Aftermath of(ClinicalStore store, Set<Kept> acknowledged, List<String> sent) {
    List<StoredEvent> kept = kept(store, sent);
    int found =
        (int)
            acknowledged.stream()
                .filter(
                    one ->
                        kept.stream()
                            .anyMatch(
                                event ->
                                    event.key().equals(one.key())
                                        && event.version() == one.version()))
                .count();
    int twice = kept.size() - (int) kept.stream().map(Aftermath::kept).distinct().count();
    Map<String, String> contents = contents(store);
    int differing = differing(contents, replayed(kept));
    return new Aftermath(
        acknowledged.size(),
        found,
        twice + identifiedTwice(store),
        differing,
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
    var event =
        (indwell.intake.Reading.Accepted)
            EventBodies.line(body.getBytes(StandardCharsets.UTF_8), Story.NOW);
    return event.version().key();
  }

  private static Map<String, String> replayed(List<StoredEvent> kept) {
    List<StoredEvent> backwards = new ArrayList<>(kept);
    Collections.reverse(backwards);
    try (ClinicalStore empty = new MemoryStore()) {
      backwards.forEach(event -> record(empty, event.canonical()));
      return contents(empty);
    }
  }

  private static Outcome record(ClinicalStore store, String body) {
    return new RecordEvents(
            store, new Victim.Passing(point -> {}), new MappingContext(ZoneOffset.UTC))
        .record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), Story.NOW), Story.NOW)
        .outcome();
  }

  private static int sentAgain(ClinicalStore store, List<String> sent) {
    Set<Outcome> fine = Set.of(Outcome.RECORDED, Outcome.DUPLICATE, Outcome.SUPERSEDED);
    return (int) sent.stream().filter(body -> !fine.contains(record(store, body))).count();
  }

  /**
   * Resources as they stand now, without what depends on the way there; withdrawn ones left out.
   */
  private static Map<String, String> contents(ClinicalStore store) {
    Map<String, String> contents = new TreeMap<>();
    for (StoredResource stored : all(store)) {
      Resource resource = FhirJson.parse(stored.json());
      resource.setMeta(null);
      resource.setId(resource.getIdElement().getIdPart());
      String json = FhirJson.encode(resource);
      if (!json.contains(WITHDRAWN)) {
        contents.put(stored.key().reference(), json);
      }
    }
    return contents;
  }

  private static int differing(Map<String, String> one, Map<String, String> other) {
    Set<String> keys = new TreeSet<>(one.keySet());
    keys.addAll(other.keySet());
    return (int)
        keys.stream()
            .filter(key -> !one.getOrDefault(key, "").equals(other.getOrDefault(key, "")))
            .count();
  }

  /** What was withdrawn keeps its identifier, which may stand for something else since. */
  private static int identifiedTwice(ClinicalStore store) {
    List<String> tokens = new ArrayList<>();
    for (StoredResource stored : all(store)) {
      if (stored.json().contains(WITHDRAWN)) {
        continue;
      }
      for (String token : stored.identifiers()) {
        // A stay is identified by its own system, and two patients may name one.
        if (token.startsWith(EVENT)) {
          tokens.add(stored.key().type() + " " + token);
        }
      }
    }
    return tokens.size() - (int) tokens.stream().distinct().count();
  }

  private static List<StoredResource> all(ClinicalStore store) {
    List<StoredResource> all = new ArrayList<>();
    for (String type : ReadResources.TYPES) {
      if (!type.equals("Provenance")) {
        Optional<String> after = Optional.empty();
        List<StoredResource> page;
        do {
          ResourceQuery query = new ResourceQuery(type, Set.of(), Set.of(), Set.of(), after, PAGE);
          page = store.read(state -> state.search(query));
          all.addAll(page);
          after = page.isEmpty() ? after : Optional.of(page.get(page.size() - 1).key().id());
        } while (page.size() == PAGE);
      }
    }
    return all;
  }
}
