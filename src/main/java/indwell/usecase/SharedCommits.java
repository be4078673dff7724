package indwell.usecase;

import indwell.intake.EventResult;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CompletableFuture;

/**
 * Lets callers that come while others are being served share one transaction: locks, questions and
 * the flush to the disk cost as much for many events as for one. Nobody waits for company; who
 * finds a free lane goes at once, and whoever came meanwhile goes together after that.
 *
 * <p>There are no threads of its own: the first of a group records for all of it, and then wakes
 * the first of those who came since.
 */
public final class SharedCommits {
  /**
   * Groups that are recorded at the same time: while one waits for the store the next is mapped.
   */
  static final int LANES = 3;

  /**
   * Events of a transaction, unless one caller brings more: what fails is done again one by one.
   */
  private static final int MOST = 64;

  private final RecordEvents recordEvents;
  private final Deque<Caller> waiting = new ArrayDeque<>();
  private int lanes = LANES;

  public SharedCommits(RecordEvents recordEvents) {
    this.recordEvents = recordEvents;
  }

  private static final class Caller {
    private final List<Received> events;

    /** The group that it has to lead; nobody once it was answered. */
    private final CompletableFuture<List<Caller>> turn = new CompletableFuture<>();

    private List<EventResult> results = List.of();

    private Caller(List<Received> events) {
      this.events = events;
    }
  }

  /**
   * Records the events in their order; may wait for the store.
   *
   * @return the outcomes, as {@link RecordEvents#record(List)} gives them
   */
  public List<EventResult> record(List<Received> events) {
    Caller caller = new Caller(events);
    List<Caller> group = takesLane(caller) ? List.of(caller) : caller.turn.join();
    if (!group.isEmpty()) {
      lead(group);
    }
    return caller.results;
  }

  /** How many callers wait for others to be served. */
  synchronized int waiting() {
    return waiting.size();
  }

  /** Nobody waits while a lane is free. */
  private synchronized boolean takesLane(Caller caller) {
    if (lanes == 0) {
      waiting.addLast(caller);
      return false;
    }
    lanes--;
    return true;
  }

  private void lead(List<Caller> group) {
    try {
      List<Received> events = new ArrayList<>();
      group.forEach(caller -> events.addAll(caller.events));
      answer(group, recordEvents.record(events));
    } catch (RuntimeException | Error defect) {
      group.forEach(caller -> caller.turn.completeExceptionally(defect));
      throw defect;
    } finally {
      handOver();
    }
  }

  /** The first who wait, who wait no longer. */
  private List<Caller> group() {
    List<Caller> group = new ArrayList<>();
    int events = 0;
    do {
      Caller next = waiting.removeFirst();
      group.add(next);
      events += next.events.size();
    } while (!waiting.isEmpty() && events + waiting.getFirst().events.size() <= MOST);
    return group;
  }

  private static void answer(List<Caller> group, List<EventResult> results) {
    int from = 0;
    for (Caller caller : group) {
      caller.results = results.subList(from, from + caller.events.size());
      from += caller.events.size();
      caller.turn.complete(List.of());
    }
  }

  /** In one step, so that no two lanes are handed to one caller and nobody is in two groups. */
  private synchronized void handOver() {
    if (waiting.isEmpty()) {
      lanes++;
    } else {
      List<Caller> group = group();
      group.get(0).turn.complete(group);
    }
  }
}
