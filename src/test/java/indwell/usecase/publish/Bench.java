package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.upstream.Credentials;
import indwell.adapter.upstream.HapiUpstream;
import indwell.adapter.upstream.UpstreamAddress;
import indwell.fhir.map.MappingContext;
import indwell.fhir.publish.Outgoing;
import indwell.intake.EventBodies;
import indwell.port.Backlog;
import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.ProfileValidator;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import org.hl7.fhir.r4.model.Resource;

/** A store, a hospital and what publishes from one to the other; for tests. */
final class Bench implements AutoCloseable {
  static final Duration PATIENCE = Duration.ofMillis(700);
  private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");

  /** Made resources are valid, another test shows that; here they only have to be there. */
  private static final ProfileValidator UNASKED =
      new ProfileValidator() {
        @Override
        public List<Finding> validate(byte[] json, List<String> profiles) {
          return List.of();
        }

        @Override
        public boolean knows(String profile) {
          return true;
        }
      };

  final ClinicalStore store;
  final FakeHospital hospital;
  final Addressing addressing;
  final RecordEvents recordEvents;
  private final List<AutoCloseable> open = new ArrayList<>();
  private int publishers;

  Bench(ClinicalStore store, Addressing addressing) {
    this.store = store;
    this.addressing = addressing;
    this.hospital = new FakeHospital(addressing == Addressing.THEIRS);
    this.recordEvents =
        new RecordEvents(store, UNASKED, new MappingContext(ZoneId.of("Europe/Berlin")));
  }

  void record(Collection<String> bodies) {
    for (String body : bodies) {
      var unused =
          recordEvents.record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
    }
  }

  Outbox outbox() {
    return store instanceof JdbcStore jdbc ? jdbc.outbox() : ((MemoryStore) store).outbox();
  }

  static Pace pace(long seed) {
    Random random = new Random(seed);
    Backoff backoff = new Backoff(Duration.ofMillis(2), Duration.ofMillis(40), random::nextDouble);
    return new Pace(3, PATIENCE, Duration.ofMillis(5), Duration.ofSeconds(20), backoff);
  }

  HapiUpstream upstream(Credentials credentials) {
    HapiUpstream upstream =
        new HapiUpstream(
            UpstreamAddress.of(hospital.base(), "the test"),
            credentials,
            PATIENCE,
            3,
            Clock.systemUTC());
    open.add(upstream);
    return upstream;
  }

  Publisher publisher(long seed) {
    return publisher(seed, Credentials.none());
  }

  Publisher publisher(long seed, Credentials credentials) {
    Publisher publisher = unstarted(seed, credentials);
    publisher.start();
    return publisher;
  }

  Publisher unstarted(long seed) {
    return unstarted(seed, Credentials.none());
  }

  private Publisher unstarted(long seed, Credentials credentials) {
    Publisher publisher =
        new Publisher(
            store,
            outbox(),
            upstream(credentials),
            addressing,
            pace(seed),
            Clock.systemUTC(),
            addressing + " " + hospital.base(),
            "owner-" + ++publishers);
    open.add(0, publisher);
    return publisher;
  }

  /** The newest version of every resource in the store. */
  List<StoredResource> stored() {
    Map<ResourceKey, StoredResource> newest = new LinkedHashMap<>();
    for (StoredResource one : changes()) {
      newest.putIfAbsent(one.key(), one);
    }
    return List.copyOf(newest.values());
  }

  private List<StoredResource> changes() {
    return store.read(
        state ->
            state.changes(
                new indwell.port.ChangeQuery(
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    100_000)));
  }

  boolean drained() {
    Backlog backlog = outbox().backlog();
    return backlog.waiting() == 0 && backlog.unread() == 0;
  }

  /** The hospital has what the store has, and nothing else. */
  void assertEqual() {
    Map<String, List<Resource>> there = hospital.versions();
    Map<String, String> theirs = new TreeMap<>();
    for (StoredResource one : stored()) {
      String reference = theirReference(one.key());
      theirs.put(reference, one.key().reference());
      List<Resource> versions = there.getOrDefault(reference, List.of());
      assertThat(versions).as(one.key().reference()).isNotEmpty();
      assertThat(same(one, versions.get(versions.size() - 1)))
          .as("content of " + one.key().reference())
          .isTrue();
    }
    assertThat(there.keySet()).isEqualTo(theirs.keySet());
  }

  /** No resource ever showed an older version of ours after a newer one. */
  void assertNeverBackwards() {
    Map<String, List<Resource>> there = hospital.versions();
    for (StoredResource newest : stored()) {
      List<StoredResource> ours =
          store.read(state -> state.history(newest.key())).stream()
              .sorted(java.util.Comparator.comparing(StoredResource::version))
              .toList();
      int reached = 0;
      for (Resource shown : there.getOrDefault(theirReference(newest.key()), List.of())) {
        // Contents may come back; then the version shown is the later one.
        int from = reached;
        Optional<Integer> version =
            ours.stream()
                .filter(one -> one.version() >= Math.max(1, from) && same(one, shown))
                .map(StoredResource::version)
                .findFirst();
        assertThat(version).as(newest.key().reference() + " after version " + reached).isPresent();
        reached = version.orElseThrow();
      }
    }
  }

  private boolean same(StoredResource ours, Resource theirs) {
    Resource addressed = Outgoing.addressed(Outgoing.of(ours.json()), references());
    return Outgoing.sameContent(addressed, theirs);
  }

  String theirReference(ResourceKey key) {
    return references().apply(key.reference());
  }

  private UnaryOperator<String> references() {
    return reference -> {
      ResourceKey key = SendOrder.key(reference).orElseThrow();
      return addressing == Addressing.OURS
          ? reference
          : Optional.ofNullable(outbox().known(List.of(key)).get(key))
              .map(Publication::theirId)
              .map(id -> key.type() + "/" + id)
              .orElse(reference);
    };
  }

  @Override
  public void close() throws Exception {
    for (AutoCloseable one : open) {
      one.close();
    }
    hospital.close();
    store.close();
  }
}
