package indwell.usecase.publish;

import indwell.port.AuditEntry;
import indwell.port.Backlog;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** How publishing is doing, and the two things that a person can do about what stands still. */
public final class Publishing implements AutoCloseable {
  /** Holds beyond this are counted and not told one by one. */
  private static final int MOST_TOLD = 100;

  private static final int MOST_COUNTED = 10_000;

  private final Outbox outbox;
  private final Optional<Publisher> publisher;
  private final String target;
  private final Clock clock;

  /** In one word. */
  public enum State {
    /** Nothing is published. */
    OFF,
    /** This process sends. */
    SENDING,
    /** Another process that shares the store sends. */
    STANDBY,
    /** The other server cannot be asked now; that is tried again by itself. */
    WAITING,
    /** Something is wrong with the connection that a person has to mend. */
    PARKED
  }

  /**
   * A lane that stands still.
   *
   * @param waiting resources in it that wait, this one included
   */
  public record Standing(LaneHold hold, int waiting) {}

  /**
   * How it is doing.
   *
   * @param target where everything goes; empty when it is off
   * @param sent resources that were taken since this process began
   * @param settled how often something else was there and was put over, since then
   * @param connection what is wrong with the connection
   * @param standing lanes that stand still, the first hundred, those that need a person first
   * @param parked how many of all lanes wait for a person
   */
  public record Status(
      State state,
      String target,
      Instant at,
      Backlog backlog,
      long sent,
      long settled,
      Optional<LaneHold> connection,
      List<Standing> standing,
      long parked) {}

  /**
   * Nothing runs before {@link #start}.
   *
   * @param publisher empty when nothing is published
   * @param target where everything goes; empty when nothing is published
   */
  public Publishing(Outbox outbox, Optional<Publisher> publisher, String target, Clock clock) {
    this.outbox = outbox;
    this.publisher = publisher;
    this.target = target;
    this.clock = clock;
  }

  /** Begins, if anything is published. */
  public void start() {
    publisher.ifPresent(Publisher::start);
  }

  /** Whether anything is published. */
  public boolean on() {
    return publisher.isPresent();
  }

  /** How it is doing now. */
  public Status status() {
    Instant now = clock.instant();
    if (!on()) {
      // Nothing is sent, so nothing waits, whatever the record holds.
      Backlog nothing = new Backlog(0, 0, Optional.empty(), List.of());
      return new Status(State.OFF, target, now, nothing, 0, 0, Optional.empty(), List.of(), 0);
    }
    Backlog backlog = outbox.backlog();
    List<LaneHold> lanes =
        backlog.holds().stream().filter(hold -> !hold.lane().equals(LaneHold.CONNECTION)).toList();
    Optional<LaneHold> connection =
        backlog.holds().stream()
            .filter(hold -> hold.lane().equals(LaneHold.CONNECTION))
            .findFirst();
    List<Standing> standing =
        lanes.stream()
            .sorted(java.util.Comparator.comparing(hold -> !hold.parked()))
            .limit(MOST_TOLD)
            .map(hold -> new Standing(hold, outbox.waiting(hold.lane(), MOST_COUNTED).size()))
            .toList();
    return new Status(
        state(connection, now),
        target,
        now,
        backlog,
        publisher.map(Publisher::sent).orElse(0L),
        publisher.map(Publisher::settled).orElse(0L),
        connection,
        standing,
        lanes.stream().filter(LaneHold::parked).count());
  }

  private State state(Optional<LaneHold> connection, Instant now) {
    return connection
        .filter(hold -> hold.holds(now))
        .map(hold -> hold.parked() ? State.PARKED : State.WAITING)
        .orElseGet(
            () -> publisher.filter(Publisher::leads).isPresent() ? State.SENDING : State.STANDBY);
  }

  /**
   * Lets the connection be tried again; false when nothing was wrong with it.
   *
   * @param rows for the audit trail, in the same transaction
   */
  public boolean releaseConnection(List<AuditEntry> rows) {
    return outbox.release(LaneHold.CONNECTION, Optional.empty(), rows);
  }

  /**
   * Lets a resource that stands still be sent again; false when it does not.
   *
   * @param rows for the audit trail, in the same transaction
   */
  public boolean release(String reference, List<AuditEntry> rows) {
    return standing(reference)
        .filter(hold -> outbox.release(hold.lane(), Optional.empty(), rows))
        .isPresent();
  }

  /**
   * Leaves a resource that stands still out, until it changes again, and lets those behind it go;
   * false when it does not stand still.
   *
   * @param rows for the audit trail, in the same transaction
   */
  public boolean skip(String reference, List<AuditEntry> rows) {
    return standing(reference)
        .filter(hold -> outbox.release(hold.lane(), SendOrder.key(hold.resource()), rows))
        .isPresent();
  }

  private Optional<LaneHold> standing(String reference) {
    return outbox.backlog().holds().stream()
        .filter(hold -> !hold.resource().isEmpty() && hold.resource().equals(reference))
        .findFirst();
  }

  @Override
  public void close() {
    publisher.ifPresent(Publisher::close);
  }
}
