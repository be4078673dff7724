package indwell.usecase;

import indwell.domain.event.BusinessId;
import indwell.intake.EventResult;
import indwell.intake.Reading;
import indwell.port.trace.Errand;
import indwell.port.trace.Span;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;

/**
 * Lets callers that come while others are being served share one transaction: locks, questions and
 * the flush to the disk cost as much for many events as for one. Nobody waits for company; who
 * finds a free lane goes at once, and whoever came meanwhile goes together after that.
 *
 * <p>A patient is in one lane at a time: transactions of one patient only wait for each other in
 * the store, where each holds up a lane and all who share its transaction. Whoever brings events of
 * a patient who is being served waits here instead, and lets others pass.
 *
 * <p>There are no threads of its own: the first of a group records for all of it, and then wakes
 * the first of each group that can follow.
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

  /** In the order in which they came. Who is in it can go nowhere now. */
  private final Deque<Caller> waiting = new ArrayDeque<>();

  /** Patients who are being served. */
  private final Set<BusinessId> served = new HashSet<>();

  private int lanes = LANES;

  public SharedCommits(RecordEvents recordEvents) {
    this.recordEvents = recordEvents;
  }

  private static final class Caller {
    private final List<Received> events;
    private final Set<BusinessId> patients;

    private final Errand errand = Errand.current();

    /** The group that it has to lead; nobody once it was answered. */
    private final CompletableFuture<List<Caller>> turn = new CompletableFuture<>();

    private List<EventResult> results = List.of();

    private Caller(List<Received> events) {
      this.events = events;
      this.patients =
          events.stream()
              .map(Received::reading)
              .filter(Reading.Accepted.class::isInstance)
              .map(one -> ((Reading.Accepted) one).version().patient())
              .collect(Collectors.toSet());
    }
  }

  /**
   * Records the events in their order; may wait for the store.
   *
   * @return the outcomes, as {@link RecordEvents#record(List)} gives them
   */
  public List<EventResult> record(List<Received> events) {
    Caller caller = new Caller(events);
    join(caller);
    List<Caller> group = caller.turn.join();
    if (!group.isEmpty()) {
      lead(group);
    }
    return caller.results;
  }

  /** How many callers wait for others to be served. */
  synchronized int waiting() {
    return waiting.size();
  }

  private synchronized void join(Caller caller) {
    waiting.addLast(caller);
    dispatch();
  }

  private void lead(List<Caller> group) {
    try {
      List<Received> events = new ArrayList<>();
      group.forEach(caller -> events.addAll(caller.events));
      List<EventResult> results = recordEvents.record(events);
      link(group);
      answer(group, results);
    } catch (RuntimeException | Error defect) {
      group.forEach(caller -> caller.turn.completeExceptionally(defect));
      throw defect;
    } finally {
      leave(group);
    }
  }

  /** What was done for all of them is told where the first is: the others point there. */
  private static void link(List<Caller> group) {
    Span leader = group.get(0).errand.span();
    for (Caller other : group.subList(1, group.size())) {
      other.errand.span().linkTo(leader);
    }
  }

  private static void answer(List<Caller> group, List<EventResult> results) {
    int from = 0;
    for (Caller caller : group) {
      caller.results = results.subList(from, from + caller.events.size());
      from += caller.events.size();
      caller.turn.complete(List.of());
    }
  }

  private synchronized void leave(List<Caller> group) {
    group.forEach(caller -> served.removeAll(caller.patients));
    lanes++;
    dispatch();
  }

  /** In one step, so that nobody is in two groups and no patient in two lanes. */
  private void dispatch() {
    while (lanes > 0) {
      List<Caller> group = group();
      if (group.isEmpty()) {
        return;
      }
      lanes--;
      group.forEach(caller -> served.addAll(caller.patients));
      group.get(0).turn.complete(group);
    }
  }

  /** The first of those who wait whose patients nobody serves; they wait no longer. */
  private List<Caller> group() {
    List<Caller> group = new ArrayList<>();
    Set<BusinessId> passed = new HashSet<>();
    int events = 0;
    for (Iterator<Caller> all = waiting.iterator(); all.hasNext(); ) {
      Caller next = all.next();
      if (!mayGo(next, passed)) {
        // Events of one patient keep their order, and nobody is passed for ever.
        passed.addAll(next.patients);
      } else if (!group.isEmpty() && events + next.events.size() > MOST) {
        return group;
      } else {
        all.remove();
        group.add(next);
        events += next.events.size();
      }
    }
    return group;
  }

  private boolean mayGo(Caller caller, Set<BusinessId> passed) {
    return Collections.disjoint(caller.patients, served)
        && Collections.disjoint(caller.patients, passed);
  }
}
