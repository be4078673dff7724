package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.StatedIndication;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.intake.EventReader;
import indwell.intake.EventResult;
import indwell.intake.EventTree;
import indwell.intake.Outcome;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.StoredEvent;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Records what a person enters on a page about a catheter in place, now. It becomes an event and
 * goes through the same intake as everybody else's. A form has a number; the form sent again is the
 * same event, sent again with another answer a correction of it.
 */
public final class EnterAtBedside {
  /** The sending system that these events name. */
  public static final String SOURCE = "ward-page";

  /** Another sender of the same form may get in between so many times. */
  private static final int TRIES = 5;

  private final ClinicalStore store;
  private final RecordEvents recordEvents;

  public EnterAtBedside(ClinicalStore store, RecordEvents recordEvents) {
    this.store = store;
    this.recordEvents = recordEvents;
  }

  /** What is entered. */
  public sealed interface Entry permits Review, Securement, Check {
    /** The kind of event that it makes. */
    EventType type();
  }

  /**
   * Whether the catheter is still needed.
   *
   * @param indication why; there when it is still needed
   */
  public record Review(boolean stillNeeded, Optional<StatedIndication> indication)
      implements Entry {
    @Override
    public EventType type() {
      return EventType.NEED_REVIEWED;
    }
  }

  /** The securement was changed. */
  public record Securement(Optional<String> site) implements Entry {
    @Override
    public EventType type() {
      return EventType.SECUREMENT_CHANGED;
    }
  }

  /** Catheter, tubing and bag were checked. */
  public record Check(Map<CareItem, Boolean> items) implements Entry {
    public Check {
      items = Map.copyOf(items);
    }

    @Override
    public EventType type() {
      return EventType.CARE_CHECKED;
    }
  }

  /**
   * An entry and where it belongs.
   *
   * @param form number of the form
   * @param patientId id of the FHIR Patient
   */
  public record Form(
      String form, String patientId, CatheterId catheter, Entry entry, BusinessId recorder) {
    EventKey key() {
      return new EventKey(SOURCE, form + "-" + entry.type().code());
    }
  }

  /**
   * What stands on record.
   *
   * @param event empty when it was taken back
   */
  public record Entered(
      EventKey key, int version, String patientId, EventType type, Optional<BedsideEvent> event) {}

  /** Records the entry, once however often it is sent. */
  public Asked<Entered> enter(Form form, Instant now, Origin origin) {
    Instant at = now.truncatedTo(ChronoUnit.MILLIS);
    for (int i = 0; i < TRIES; i++) {
      Asked<Next> next = store.read(state -> next(state, form, at));
      if (next instanceof Asked.Refused<Next> refused) {
        return new Asked.Refused<>(refused.issue());
      }
      Next found = ((Asked.Answered<Next>) next).value();
      if (found.already()) {
        return Asked.answer(entered(found.event(), form.patientId()));
      }
      Map<String, Object> tree = EventTree.of(found.event(), found.event().envelope().version());
      EventResult result = send(tree, form.recorder(), now, origin);
      if (result.outcome() == Outcome.RECORDED || result.outcome() == Outcome.DUPLICATE) {
        return Asked.answer(entered(found.event(), form.patientId()));
      }
      if (result.outcome() == Outcome.REFUSED || result.outcome() == Outcome.FAILED) {
        return new Asked.Refused<>(result.issues().get(0));
      }
    }
    return busy();
  }

  private static <T> Asked<T> busy() {
    return Asked.refuse(IssueCode.BUSY, "", "The same form was sent by many at once.");
  }

  /** What is to be sent, or what is on record already. */
  private record Next(BedsideEvent event, boolean already) {}

  private static Asked<Next> next(Reading state, Form form, Instant now) {
    Optional<StoredEvent> newest = newest(state, form.key());
    Optional<Stated> standing =
        newest
            .map(one -> EventReader.fromCanonical(one.canonical()))
            .filter(Stated.class::isInstance)
            .map(Stated.class::cast);
    Timeline timeline = Timeline.of(PatientTimelines.eventsOf(state, form.patientId()));
    Optional<Placement> catheter =
        timeline.placements().stream()
            .filter(one -> one.catheter().equals(form.catheter()) && one.inPlaceAt(now))
            .findFirst();
    if (catheter.isEmpty() && standing.isEmpty()) {
      return Asked.refuse(
          IssueCode.CATHETER_NOT_THERE,
          "",
          "Catheter " + form.catheter().value() + " is not in place now; expected one that is.");
    }
    BusinessId patient =
        catheter
            .map(one -> one.placedBy().patient())
            .orElseGet(() -> standing.orElseThrow().patient());
    Instant at = standing.map(one -> one.event().at()).orElse(now);
    if (standing.isPresent()) {
      BedsideEvent same = event(form, newest.orElseThrow().version(), patient, at);
      if (same.equals(standing.get().event())) {
        return Asked.answer(new Next(same, true));
      }
    }
    int version = newest.map(one -> one.version() + 1).orElse(1);
    return Asked.answer(new Next(event(form, version, patient, at), false));
  }

  private static Optional<StoredEvent> newest(Reading state, EventKey key) {
    return state.versionsOf(key).stream().reduce((earlier, later) -> later);
  }

  private static BedsideEvent event(Form form, int version, BusinessId patient, Instant at) {
    Envelope envelope =
        new Envelope(form.key(), version, at, patient, Optional.of(form.recorder()));
    Optional<BusinessId> stay = Optional.empty();
    if (form.entry() instanceof Review review) {
      return new NeedReview(
          envelope, stay, form.catheter(), review.stillNeeded(), review.indication());
    }
    if (form.entry() instanceof Securement securement) {
      return new SecurementChange(envelope, stay, form.catheter(), securement.site());
    }
    return new CareCheck(envelope, stay, form.catheter(), ((Check) form.entry()).items());
  }

  private static Entered entered(BedsideEvent event, String patientId) {
    return new Entered(
        event.key(), event.envelope().version(), patientId, event.type(), Optional.of(event));
  }

  /** What was entered from a page under that event id; empty when there is no such thing. */
  public Optional<Entered> find(String eventId) {
    return store.read(state -> find(state, eventId));
  }

  private static Optional<Entered> find(Reading state, String eventId) {
    return newest(state, new EventKey(SOURCE, eventId))
        .map(
            stored -> {
              EventVersion version = EventReader.fromCanonical(stored.canonical());
              return new Entered(
                  stored.key(),
                  stored.version(),
                  stored.patientId(),
                  version.type(),
                  version instanceof Stated stated
                      ? Optional.of(stated.event())
                      : Optional.empty());
            });
  }

  /** Takes an entry back as entered in error; one that was taken back stays so. */
  public Asked<Entered> takeBack(String eventId, BusinessId recorder, Instant now, Origin origin) {
    for (int i = 0; i < TRIES; i++) {
      Optional<Entered> found = find(eventId);
      if (found.isEmpty()) {
        return Asked.refuse(
            IssueCode.NOT_FOUND,
            "",
            "Nothing was entered under that number; expected what a page recorded.");
      }
      if (found.get().event().isEmpty()) {
        return Asked.answer(found.get());
      }
      BedsideEvent event = found.get().event().get();
      int version = found.get().version() + 1;
      Map<String, Object> tree =
          EventTree.withdrawal(event.key(), version, event.type(), event.patient());
      EventResult result = send(tree, recorder, now, origin);
      if (result.outcome() == Outcome.REFUSED || result.outcome() == Outcome.FAILED) {
        return new Asked.Refused<>(result.issues().get(0));
      }
    }
    return busy();
  }

  private EventResult send(
      Map<String, Object> tree, BusinessId recorder, Instant now, Origin origin) {
    tree.put("recorder", Map.of("system", recorder.system(), "value", recorder.value()));
    Received event = new Received(EventReader.read(tree, List.of(), now), now, origin);
    return recordEvents.record(List.of(event)).get(0);
  }
}
