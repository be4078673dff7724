package indwell.port;

import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What of the record another server has still to be told, and how far it has been told. It is
 * worked out from the changes that the store numbers anyway, so it costs nothing to record one: a
 * change is waiting as soon as it is durable.
 *
 * <p>A resource waits once, however often it has changed: what is sent is its newest version. A
 * lane is all that must keep its order: the resources of one patient; the empty lane holds the
 * wards. Implementations are safe for use by many threads and processes; every method may throw
 * {@link StoreUnavailable}.
 */
public interface Outbox {

  /**
   * Becomes, or stays, the one that sends.
   *
   * @param owner who asks; each process has a name of its own
   * @param until when others may take over unless this is called again
   * @return false while another one sends
   */
  boolean lead(String owner, Instant now, Instant until);

  /** Lets others take over at once. */
  void resign(String owner);

  /**
   * Says where everything goes. When that is not where it went before, all is sent anew.
   *
   * @return whether it has changed
   */
  boolean aim(String target);

  /**
   * Reads on in the changes of the record and has their resources wait.
   *
   * @param limit most changes to read
   * @return how many were read; less than the limit when no more are there
   */
  int take(int limit);

  /**
   * Lanes in which something waits and that are not held now, the one that waits longest first.
   *
   * @param limit most resources to look at
   */
  List<String> ready(Instant now, int limit);

  /** What waits in a lane, the oldest change first. */
  List<Publication> waiting(String lane, int limit);

  /** How far each of the resources has been told; those never heard of are left out. */
  Map<ResourceKey, Publication> known(Collection<ResourceKey> keys);

  /**
   * Notes what the other server has taken; a lower version than one noted before changes nothing.
   */
  void accepted(Collection<Publication> taken);

  /** Has the resources wait again, as if they had never been sent. */
  void again(Collection<ResourceKey> keys);

  /** Holds a lane, or holds it anew. */
  void hold(LaneHold hold);

  /** Holds the lane no longer; false when it was not held. */
  boolean release(String lane);

  /**
   * The same because a person wants it: what goes with it is done in the same transaction, or not
   * at all where the lane was not held.
   *
   * @param skipped what waits of this resource is left out, until it changes again
   * @param rows for the audit trail
   */
  boolean release(String lane, Optional<ResourceKey> skipped, List<AuditEntry> rows);

  /** Why a lane is held. */
  Optional<LaneHold> held(String lane);

  /** How much waits. */
  Backlog backlog();
}
