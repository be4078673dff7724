package indwell.port;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import indwell.fhir.search.SearchValue;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * The durable record: events with all their versions, the FHIR resources that they made with all
 * theirs, and an index of who was where when.
 *
 * <p>Implementations are safe for use by many threads. Every method may throw {@link
 * StoreUnavailable} when the store is away.
 */
public interface ClinicalStore extends AutoCloseable {

  /**
   * Runs the work as one transaction: all that it writes is durable when this returns, or nothing
   * of it is there when this throws.
   *
   * @param work may be run again from the start when another transaction got in its way, so it has
   *     no effects outside the store
   */
  <T> T write(Function<Writing, T> work);

  /** Runs the work against one consistent state. */
  <T> T read(Function<Reading, T> work);

  /**
   * Settles the past: waits for the transactions under way and sees to it that nothing is written
   * any more with a {@code lastUpdated} at or before the answer. What stands then stays, so it can
   * be read bit by bit, and again after a restart.
   *
   * @return the time given, to the millisecond, or a later one that was settled before
   */
  Instant settle(Instant at);

  /**
   * Walks once over the resources as they stood at a time, in no particular order, all from one
   * state. It holds few of them in memory. What fails on the way is not begun again.
   *
   * @param visit what it throws ends the walk
   */
  void standing(Standing question, Consumer<ResourceText> visit);

  /** Whether events could be taken at this moment. */
  boolean available();

  /**
   * Whether nobody gets on with the store at this moment and as many wait for that as may: whoever
   * asks now is turned away. Costs nothing.
   */
  default boolean crowded() {
    return false;
  }

  @Override
  void close();

  /** What can be asked of a state. */
  interface Reading {
    /** All versions of an event, ascending by version. */
    default List<StoredEvent> versionsOf(EventKey key) {
      return versionsOf(List.of(key)).getOrDefault(key, List.of());
    }

    /** The same for many events at once, by event; events that are unknown are left out. */
    Map<EventKey, List<StoredEvent>> versionsOf(Collection<EventKey> keys);

    /**
     * The current events of a patient: of each event its highest version, if that version is not
     * withdrawn and names this patient. In no particular order.
     */
    List<StoredEvent> currentEvents(String patientId);

    /** The same for many patients at once, by patient id; patients without events are left out. */
    Map<String, List<StoredEvent>> currentEvents(Collection<String> patientIds);

    /**
     * When an event that names, or named, the patient was last replaced by a higher version or
     * taken back, by patient id; patients without such an event are left out.
     */
    Map<String, Instant> lastCorrections(Collection<String> patientIds);

    /**
     * The events of which some version names the patient and whose newest version is above 1,
     * ascending.
     */
    NavigableSet<EventKey> correctedEvents(String patientId);

    /** The newest versions of those of the resources that exist. */
    Map<ResourceKey, StoredResource> resources(Collection<ResourceKey> keys);

    /** The newest version of a resource. */
    default Optional<StoredResource> resource(ResourceKey key) {
      return Optional.ofNullable(resources(List.of(key)).get(key));
    }

    /** One version of a resource. */
    Optional<StoredResource> version(ResourceKey key, int version);

    /** All versions of a resource, newest first; empty when it does not exist. */
    List<StoredResource> history(ResourceKey key);

    /** The versions that the query describes, newest first. */
    List<StoredResource> changes(ChangeQuery query);

    /** Number of versions that meet the query, its page bounds aside. */
    long countChanges(ChangeQuery query);

    /** The newest versions of the resources that meet the query, ascending by id. */
    List<StoredResource> search(ResourceQuery query);

    /** Number of resources that meet the query, its page bounds aside. */
    long count(ResourceQuery query);

    /**
     * Rows of the audit trail whose AuditEvents meet the query, in its order; {@code date} and
     * {@code _lastUpdated} are both when it was done.
     */
    List<Audited> audited(ResourceQuery query);

    /** Number of such rows, the page bounds aside. */
    long countAudited(ResourceQuery query);

    /** Those of the resources that the question is about, in no particular order. */
    List<ResourceText> standing(Standing question, Set<ResourceKey> among);

    /** The newest versions of all Locations, ascending by id (code point). */
    List<StoredResource> locations();

    /** Which release of the search values the store was last read for; 0 for none. */
    int searchVersion();

    /** Wards with an inpatient movement in a current event, ever. */
    SortedSet<Ward> inpatientWards();

    /** Whether any current event names the ward. */
    boolean knowsWard(Ward ward);

    /**
     * Ids of the patients with a ward span that meets the time: it starts before {@code
     * endExclusive} and ends at or after {@code start} (an empty span meets its own instant).
     *
     * @param wards only these wards; empty means any ward
     */
    Set<String> patientsInWards(Set<Ward> wards, Instant start, Instant endExclusive);

    /** The same, only those of them whose record has remarks. */
    Set<String> doubtfulPatientsInWards(Set<Ward> wards, Instant start, Instant endExclusive);

    /**
     * Gives the times that count in the wards and share an instant with the time given, each whole
     * and with its part with a catheter, in no particular order and in as many goes as it takes.
     * There may be empty ones among them, which count for nothing.
     */
    void countedTimes(Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times);

    /** Which release made what is known of whereabouts; 0 for none. */
    int whereaboutsVersion();

    /** Ids of the patients with a catheter span that holds the instant. */
    Set<String> patientsWithCatheter(Instant at);

    /** The same, only those of them who ever have a span in the ward, an empty one included. */
    Set<String> patientsWithCatheter(Instant at, Ward ever);
  }

  /**
   * What is known of events that are held.
   *
   * @param versions as {@link Reading#versionsOf} gives them
   * @param resources the newest versions of the resources that were asked for, where there are any
   */
  record HeldEvents(
      Map<EventKey, List<StoredEvent>> versions, Map<ResourceKey, StoredResource> resources) {}

  /** What can be changed within a transaction; it sees its own writes. */
  interface Writing extends Reading {
    /**
     * Waits until no other transaction holds the events, and holds them until this one ends. Call
     * it at most once a transaction, and before {@link #lockPatients}.
     */
    void lockEvents(SortedSet<EventKey> keys);

    /** The same for patients; call it at most once a transaction. */
    void lockPatients(SortedSet<String> patientIds);

    /**
     * Holds events as {@link #lockEvents} does, and reads what is known of them then, in one go
     * where the store can.
     *
     * @param resources whose newest versions are read as well
     */
    default HeldEvents holdEvents(SortedSet<EventKey> keys, Set<ResourceKey> resources) {
      lockEvents(keys);
      return new HeldEvents(versionsOf(keys), resources(resources));
    }

    /**
     * Holds patients as {@link #lockPatients} does, and reads current events then, in one go where
     * the store can.
     *
     * @param held what is held
     * @param patientIds those of them whose events are read
     * @return as {@link #currentEvents(Collection)}
     */
    default Map<String, List<StoredEvent>> holdPatients(
        SortedSet<String> held, Collection<String> patientIds) {
      lockPatients(held);
      return currentEvents(patientIds);
    }

    /**
     * The time to put on what this transaction writes, to the millisecond: the time given, or the
     * next one when the past is settled up to that or a later one.
     */
    Instant time(Instant now);

    /**
     * Adds a version of an event.
     *
     * @throws IllegalStateException if that version is there already; at the latest when the
     *     transaction ends
     */
    void append(StoredEvent event);

    /**
     * Adds a version of a resource, which becomes its newest; what the one before could be found by
     * is forgotten.
     *
     * @throws IllegalStateException if the newest version is not {@code version - 1}, or its {@code
     *     lastUpdated} lies in the settled past ({@link #time} gives one that does not); at the
     *     latest when the transaction ends
     */
    void put(StoredResource resource);

    /**
     * Says what the newest version of a resource can be found by beside its identifiers, its
     * patient and its time, instead of what was said before.
     *
     * @param values each once
     */
    void findBy(StoredResource newest, List<SearchValue> values);

    /** Says which release of the search values all newest versions can be found by. */
    void searchVersion(int version);

    /** Says which release made what is known of all patients' whereabouts. */
    void whereaboutsVersion(int version);

    /**
     * Replaces what is known of the patient's whereabouts; the patient is held.
     *
     * @param before what was known until now, which the store need not look up then; empty when the
     *     caller does not know
     */
    void index(String patientId, Optional<PatientIndex> before, PatientIndex now);

    /** Adds rows to the audit trail, in their order. */
    void audit(List<AuditEntry> entries);
  }
}
