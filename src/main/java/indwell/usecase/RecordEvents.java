package indwell.usecase;

import indwell.domain.event.EventVersion;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.StoreUnavailable;
import indwell.port.trace.Errand;
import indwell.usecase.Intake.Arrived;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.LongSupplier;

/**
 * Takes events: each is stored together with all that it changes among the resources, or not at
 * all, whatever becomes of the others. Safe for use by many threads.
 */
public final class RecordEvents {
  private static final Logger LOG = System.getLogger(RecordEvents.class.getName());

  private final ClinicalStore store;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final RecordingWatch watch;
  private final LongSupplier nanoTime;

  public RecordEvents(ClinicalStore store, ProfileValidator validator, MappingContext context) {
    this(store, validator, context, RecordingWatch.NOBODY, () -> 0);
  }

  /**
   * @param watch is told of each group of events
   * @param nanoTime a clock that only goes forward, in nanoseconds since any moment; it tells how
   *     long recording took, and nothing that is stored or answered comes from it
   */
  public RecordEvents(
      ClinicalStore store,
      ProfileValidator validator,
      MappingContext context,
      RecordingWatch watch,
      LongSupplier nanoTime) {
    this.store = store;
    this.validator = validator;
    this.context = context;
    this.watch = watch;
    this.nanoTime = nanoTime;
  }

  /**
   * Records what was read of one event that the service brings along itself. Never throws for a
   * fault of the event or of the store: both are outcomes.
   *
   * @param now the time of receipt
   */
  public EventResult record(Reading reading, Instant now) {
    return record(List.of(new Received(reading, now))).get(0);
  }

  /**
   * Records events one after the other, all that can be in one transaction. When that fails each
   * gets one of its own, so that a failure stays with the event that it belongs to. The audit trail
   * is told in that same transaction; of what was refused or has failed it has still to be told.
   *
   * @return the outcomes, in the order of the events
   */
  public List<EventResult> record(List<Received> received) {
    long begun = nanoTime.getAsLong();
    List<EventResult> results = recordAll(received);
    watch.recorded(received, results, Duration.ofNanos(nanoTime.getAsLong() - begun));
    return results;
  }

  private List<EventResult> recordAll(List<Received> received) {
    List<Arrived> arrived = received.stream().flatMap(one -> arrived(one).stream()).toList();
    Deque<EventResult> recorded = new ArrayDeque<>(recordAccepted(arrived));
    List<EventResult> results = new ArrayList<>(received.size());
    for (Received one : received) {
      results.add(
          one.reading() instanceof Reading.Refused refused
              ? EventResult.of(refused)
              : recorded.removeFirst());
    }
    return results;
  }

  private static Optional<Arrived> arrived(Received received) {
    return received.reading() instanceof Reading.Accepted accepted
        ? Optional.of(
            new Arrived(
                accepted.version(),
                accepted.canonical(),
                received.at().truncatedTo(ChronoUnit.MILLIS),
                received.origin(),
                received.errand()))
        : Optional.empty();
  }

  private List<EventResult> recordAccepted(List<Arrived> events) {
    if (events.size() < 2) {
      return events.stream().map(this::recordAlone).toList();
    }
    try {
      return recordTogether(events);
    } catch (RuntimeException oneOfThem) {
      LOG.log(Level.DEBUG, "Events are recorded one by one.");
      return recordOneByOne(events);
    }
  }

  private List<EventResult> recordTogether(List<Arrived> events) {
    return store.write(tx -> new Intake(tx, validator, context).take(events));
  }

  /** Once the store is away, those behind are not tried. */
  private List<EventResult> recordOneByOne(List<Arrived> events) {
    List<EventResult> results = new ArrayList<>(events.size());
    boolean away = false;
    for (Arrived event : events) {
      EventResult result = away ? storeAway(event.event()) : recordAlone(event);
      away = away || isAway(result);
      results.add(result);
    }
    return results;
  }

  private static boolean isAway(EventResult result) {
    return result.issues().stream().anyMatch(i -> i.code() == IssueCode.STORE_UNAVAILABLE);
  }

  /** For its own request, if it shares a transaction with others that are recorded here. */
  private EventResult recordAlone(Arrived arrived) {
    return arrived.errand().sameRequest(Errand.current())
        ? tryAlone(arrived)
        : arrived.errand().doing(() -> tryAlone(arrived));
  }

  private EventResult tryAlone(Arrived arrived) {
    EventVersion event = arrived.event();
    try {
      return recordTogether(List.of(arrived)).get(0);
    } catch (StoreUnavailable away) {
      LOG.log(Level.WARNING, "An event was not recorded: the store is away");
      return storeAway(event);
    } catch (ProfileViolation defect) {
      LOG.log(Level.ERROR, "An event was not recorded: " + defect.getMessage());
      return failed(
          event,
          IssueCode.PROFILE_VIOLATED,
          "A resource made of this event does not meet its profile, which is a defect of the"
              + " service; nothing was stored.");
    } catch (RuntimeException defect) {
      Defects.log(LOG, "An event was not recorded", defect);
      return failed(
          event,
          IssueCode.INTERNAL,
          "The service failed on this event, which is a defect of the service; nothing was stored.");
    }
  }

  private static EventResult storeAway(EventVersion event) {
    return failed(
        event,
        IssueCode.STORE_UNAVAILABLE,
        "The store cannot be written now; send the event again later.");
  }

  private static EventResult failed(EventVersion event, IssueCode code, String diagnostics) {
    return EventResult.of(
        event, Outcome.FAILED, List.of(), List.of(Issue.error(code, "", diagnostics)));
  }
}
