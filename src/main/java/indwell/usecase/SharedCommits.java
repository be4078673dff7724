package indwell.usecase;

import indwell.domain.event.BusinessId;
import indwell.intake.EventResult;
import indwell.intake.Reading;
import indwell.port.trace.Errand;
import indwell.port.trace.Span;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;

/**
 * Lets callers that come while others are being served share one transaction: locks, questions and
 * the flush to the disk cost as much for many events as for one. Who finds nobody at work goes at
 * once. Beside a group that is under way another goes when it has as many events, or when it has
 * waited three milliseconds for company: callers who were just answered come back within that time,
 * and one transaction that is held up holds up no others. Whoever is left goes together with others
 * after that.
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
  static final int LANES = 2;

  /**
   * Events of a transaction, unless one caller brings more: what fails is done again one by one.
   */
  private static final int MOST = 64;

  private static final Duration PATIENCE = Duration.ofMillis(3);

  private final RecordEvents recordEvents;
  private final Duration patience;

  /** In the order in which they came. Who is in it can go nowhere now. */
  private final Set<Caller> waiting = new LinkedHashSet<>();

  /** Patients who are being served. */
  private final Set<BusinessId> served = new HashSet<>();

  private final List<Group> underWay = new ArrayList<>();

  /** How many groups have gone. */
  private long gone;

  /** What {@link #gone} was when the group that could go next began to wait for company. */
  private long companyAwaited = -1;

  public SharedCommits(RecordEvents recordEvents) {
    this(recordEvents, PATIENCE);
  }

  /**
   * @param patience how long at most a group waits for company while a lane is free
   */
  SharedCommits(RecordEvents recordEvents, Duration patience) {
    this.recordEvents = recordEvents;
    this.patience = patience;
  }

  private static final class Caller {
    private final List<Received> events;
    private final Set<BusinessId> patients;

    private final Errand errand = Errand.current();

    /** The group that it has to lead; none once it was answered. */
    private final CompletableFuture<Optional<Group>> turn = new CompletableFuture<>();

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
    caller.turn.join().ifPresent(this::lead);
    return caller.results;
  }

  /** How many callers wait for others to be served. */
  synchronized int waiting() {
    return waiting.size();
  }

  private synchronized void join(Caller caller) {
    waiting.add(caller);
    dispatch();
  }

  private void lead(Group group) {
    try {
      List<EventResult> results = recordEvents.record(group.events());
      group.link();
      group.answer(results);
    } catch (RuntimeException | Error defect) {
      group.callers.forEach(caller -> caller.turn.completeExceptionally(defect));
      throw defect;
    } finally {
      leave(group);
    }
  }

  private synchronized void leave(Group group) {
    served.removeAll(group.patients());
    underWay.remove(group);
    dispatch();
  }

  /** In one step, so that nobody is in two groups and no patient in two lanes. */
  private void dispatch() {
    while (underWay.size() < LANES) {
      Group group = next();
      if (group.callers.isEmpty()) {
        return;
      }
      if (group.isSmallerThanAnyOf(underWay)) {
        awaitCompany();
        return;
      }
      send(group);
    }
  }

  private void send(Group group) {
    group.callers.forEach(waiting::remove);
    underWay.add(group);
    served.addAll(group.patients());
    gone++;
    group.callers.get(0).turn.complete(Optional.of(group));
  }

  private void awaitCompany() {
    if (companyAwaited != gone) {
      long before = gone;
      companyAwaited = before;
      CompletableFuture.delayedExecutor(patience.toNanos(), TimeUnit.NANOSECONDS, Runnable::run)
          .execute(() -> stopWaiting(before));
    }
  }

  /** Unless a group has gone meanwhile: the next has a time of its own. */
  private synchronized void stopWaiting(long before) {
    if (gone == before) {
      send(next());
      dispatch();
    }
  }

  /** The first of those who wait whose patients nobody serves. */
  private Group next() {
    List<Caller> group = new ArrayList<>();
    Set<BusinessId> passed = new HashSet<>();
    int events = 0;
    for (Caller next : waiting) {
      if (!mayGo(next, passed)) {
        // Events of one patient keep their order, and nobody is passed for ever.
        passed.addAll(next.patients);
      } else if (!group.isEmpty() && events + next.events.size() > MOST) {
        break;
      } else {
        group.add(next);
        events += next.events.size();
      }
    }
    return new Group(group);
  }

  private boolean mayGo(Caller caller, Set<BusinessId> passed) {
    return Collections.disjoint(caller.patients, served)
        && Collections.disjoint(caller.patients, passed);
  }

  /** Those who share a transaction; the first of them leads. */
  private static final class Group {
    private final List<Caller> callers;
    private final int size;

    private Group(List<Caller> callers) {
      this.callers = callers;
      this.size = callers.stream().mapToInt(caller -> caller.events.size()).sum();
    }

    boolean isSmallerThanAnyOf(List<Group> others) {
      return others.stream().anyMatch(other -> size < other.size);
    }

    List<Received> events() {
      return callers.stream().flatMap(caller -> caller.events.stream()).toList();
    }

    Set<BusinessId> patients() {
      return callers.stream()
          .flatMap(caller -> caller.patients.stream())
          .collect(Collectors.toSet());
    }

    /** What was done for all of them is told where the first is: the others point there. */
    void link() {
      Span leader = callers.get(0).errand.span();
      for (Caller other : callers.subList(1, callers.size())) {
        other.errand.span().linkTo(leader);
      }
    }

    void answer(List<EventResult> results) {
      int from = 0;
      for (Caller caller : callers) {
        caller.results = results.subList(from, from + caller.events.size());
        from += caller.events.size();
        caller.turn.complete(Optional.empty());
      }
    }
  }
}
