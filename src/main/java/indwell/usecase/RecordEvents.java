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
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;

/**
 * Takes events: each one its own transaction, in which it is stored together with all that it
 * changes among the resources, or not at all. Safe for use by many threads.
 */
public final class RecordEvents {
  private static final Logger LOG = System.getLogger(RecordEvents.class.getName());

  private final ClinicalStore store;
  private final ProfileValidator validator;
  private final MappingContext context;

  public RecordEvents(ClinicalStore store, ProfileValidator validator, MappingContext context) {
    this.store = store;
    this.validator = validator;
    this.context = context;
  }

  /**
   * Records what was read of one event. Never throws for a fault of the event or of the store: both
   * are outcomes.
   *
   * @param now the time of receipt
   */
  public EventResult record(Reading reading, Instant now) {
    return reading instanceof Reading.Accepted accepted
        ? record(accepted, now.truncatedTo(ChronoUnit.MILLIS))
        : EventResult.of((Reading.Refused) reading);
  }

  private EventResult record(Reading.Accepted accepted, Instant now) {
    EventVersion event = accepted.version();
    try {
      return store.write(
          tx -> new Intake(tx, validator, context, tx.time(now)).take(event, accepted.canonical()));
    } catch (StoreUnavailable away) {
      LOG.log(Level.WARNING, "An event was not recorded: the store is away");
      return failed(
          event,
          IssueCode.STORE_UNAVAILABLE,
          "The store cannot be written now; send the event again later.");
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

  private static EventResult failed(EventVersion event, IssueCode code, String diagnostics) {
    return EventResult.of(
        event, Outcome.FAILED, List.of(), List.of(Issue.error(code, "", diagnostics)));
  }
}
