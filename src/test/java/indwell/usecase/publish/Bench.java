package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.upstream.Credentials;
import indwell.adapter.upstream.HapiUpstream;
import indwell.adapter.upstream.UpstreamAddress;
import indwell.contract.Satisfied;
import indwell.fhir.map.MappingContext;
import indwell.fhir.publish.Outgoing;
import indwell.intake.EventBodies;
import indwell.port.Backlog;
import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.port.Upstream;
import indwell.port.trace.NoTracing;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.hl7.fhir.r4.model.Resource;

/** A store, a hospital and what publishes from one to the other; for tests. */
public final class Bench implements AutoCloseable {
  static final Duration PATIENCE = Duration.ofMillis(700);

  /** Of a process that is going to be killed, so that the next need not wait long. */
  private static final Duration SHORT_LEASE = Duration.ofSeconds(2);

  private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");

  final ClinicalStore store;
  final FakeHospital hospital;
  final Addressing addressing;
  final RecordEvents recordEvents;
  private final List<AutoCloseable> open = new ArrayList<>();
  private int publishers;

  Bench(ClinicalStore store, Addressing addressing) {
    this(store, addressing, new FakeHospital(addressing == Addressing.THEIRS));
  }

  /** With a hospital that may have been sent something before; all is closed together. */
  public Bench(ClinicalStore store, Addressing addressing, FakeHospital hospital) {
    this.store = store;
    this.addressing = addressing;
    this.hospital = hospital;
    this.recordEvents =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneId.of("Europe/Berlin")));
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

  /**
   * What publishes from a store of a process of its own; it is not started.
   *
   * @param between what may get between it and the hospital
   * @param owner a name that no other process has
   */
  public static Publisher publisher(
      JdbcStore store, String hospital, UnaryOperator<Upstream> between, String owner) {
    Upstream upstream =
        new HapiUpstream(
            UpstreamAddress.of(hospital, "the test"),
            Credentials.none(),
            PATIENCE,
            3,
            Clock.systemUTC());
    return new Publisher(
        store,
        store.outbox(),
        between.apply(upstream),
        Addressing.OURS,
        pace(store.hashCode(), SHORT_LEASE),
        Clock.systemUTC(),
        Addressing.OURS + " " + hospital,
        owner,
        NoTracing.OFF);
  }

  static Pace pace(long seed) {
    return pace(seed, Duration.ofSeconds(20));
  }

  private static Pace pace(long seed, Duration lease) {
    Random random = new Random(seed);
    Backoff backoff = new Backoff(Duration.ofMillis(2), Duration.ofMillis(40), random::nextDouble);
    return new Pace(3, PATIENCE, Duration.ofMillis(5), lease, backoff);
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

  /** Begins to publish. */
  public Publisher publisher(long seed) {
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
    return unstarted(pace(seed), credentials);
  }

  /** With a first wait so long that nothing is tried again while a test looks. */
  Publisher patient(long seed) {
    Backoff backoff =
        new Backoff(Duration.ofHours(1), Duration.ofHours(9), new Random(seed)::nextDouble);
    return unstarted(
        new Pace(3, PATIENCE, Duration.ofMillis(5), Duration.ofSeconds(20), backoff),
        Credentials.none());
  }

  private Publisher unstarted(Pace pace, Credentials credentials) {
    Publisher publisher =
        new Publisher(
            store,
            outbox(),
            upstream(credentials),
            addressing,
            pace,
            Clock.systemUTC(),
            addressing + " " + hospital.base(),
            "owner-" + ++publishers,
            NoTracing.OFF);
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

  /** Whether nothing waits. */
  public boolean drained() {
    Backlog backlog = outbox().backlog();
    return backlog.waiting() == 0 && backlog.unread() == 0;
  }

  /** The hospital has what the store has, and nothing else. */
  void assertEqual() {
    assertThat(differing()).isEmpty();
  }

  /** References that the hospital has otherwise than the store, not at all, or alone. */
  public List<String> differing() {
    Map<String, List<Resource>> there = hospital.versions();
    List<String> differing = new ArrayList<>();
    for (StoredResource one : stored()) {
      List<Resource> versions =
          Optional.ofNullable(there.remove(theirReference(one.key()))).orElse(List.of());
      if (versions.isEmpty() || !same(one, versions.get(versions.size() - 1))) {
        differing.add(one.key().reference());
      }
    }
    differing.addAll(there.keySet());
    return differing;
  }

  /** No resource ever showed an older version of ours after a newer one. */
  void assertNeverBackwards() {
    assertThat(backwards()).isEmpty();
  }

  /** References that showed an older version of ours after a newer one. */
  public List<String> backwards() {
    Map<String, List<Resource>> there = hospital.versions();
    return stored().stream()
        .map(StoredResource::key)
        .filter(key -> backwards(key, there.getOrDefault(theirReference(key), List.of())))
        .map(ResourceKey::reference)
        .toList();
  }

  private boolean backwards(ResourceKey key, List<Resource> shown) {
    List<StoredResource> ours =
        store.read(state -> state.history(key)).stream()
            .sorted(Comparator.comparing(StoredResource::version))
            .toList();
    int reached = 1;
    for (Resource one : shown) {
      // Contents may come back; then the version shown is the later one.
      int from = reached;
      Optional<Integer> version =
          ours.stream()
              .filter(own -> own.version() >= from && same(own, one))
              .map(StoredResource::version)
              .findFirst();
      if (version.isEmpty()) {
        return true;
      }
      reached = version.get();
    }
    return false;
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
