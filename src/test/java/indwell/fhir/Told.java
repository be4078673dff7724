package indwell.fhir;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.SpecimenPurpose;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.Draft;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.hl7.fhir.r4.model.Resource;

/**
 * A story of one patient, told event by event; times are {@code dd HH:mm} of March 2026 in UTC. The
 * facility is in Berlin, where summer time began on 29 March.
 */
public final class Told {
  /** Whom it happens to. */
  public static final BusinessId PATIENT = new BusinessId("urn:test:patient", "P-71");

  /** The facility. */
  public static final MappingContext BERLIN = new MappingContext(ZoneId.of("Europe/Berlin"));

  private static final BusinessId STAY = new BusinessId("urn:test:stay", "S-71");
  private final List<BedsideEvent> events = new ArrayList<>();

  /** The events so far. */
  public List<BedsideEvent> told() {
    return List.copyOf(events);
  }

  /** The story so far as a plan. */
  public ResourcePlan plan() {
    return ResourcePlan.of(timeline(), BERLIN);
  }

  /** The story so far. */
  public Timeline timeline() {
    return Timeline.of(events);
  }

  /** The resources of that type, built, in the order of the plan. */
  public <R extends Resource> List<R> built(Class<R> type) {
    return plan().drafts().stream()
        .map(Draft::build)
        .filter(type::isInstance)
        .map(type::cast)
        .toList();
  }

  /** The key of the event told as number {@code index}, from 0. */
  public static EventKey key(int index) {
    return new EventKey("his", "e" + index);
  }

  public Told admitted(String ward, String at) {
    return add(new Admission(next(at), STAY, new Ward(ward), true));
  }

  public Told arrived(String ward, String at) {
    return add(new Admission(next(at), STAY, new Ward(ward), false));
  }

  public Told moved(String ward, String at) {
    return add(new Transfer(next(at), STAY, new Ward(ward), true));
  }

  public Told discharged(String at) {
    return add(new Discharge(next(at), STAY, Optional.empty()));
  }

  public Told inserted(String catheter, String at) {
    return add(new Insertion(next(at), STAY, placing(catheter, Route.URETHRAL)));
  }

  public Told insertedAboveThePubis(String catheter, String at) {
    return add(new Insertion(next(at), STAY, placing(catheter, Route.SUPRAPUBIC)));
  }

  public Told exchanged(String old, String replacement, String at) {
    return add(
        new Exchange(
            next(at), Optional.empty(), new CatheterId(old), placing(replacement, Route.URETHRAL)));
  }

  public Told removed(String catheter, String at) {
    return add(
        new Removal(next(at), Optional.empty(), new CatheterId(catheter), Optional.of("leaks")));
  }

  public Told stillNeeded(String catheter, String at) {
    return add(
        new NeedReview(next(at), Optional.empty(), new CatheterId(catheter), true, wounds()));
  }

  public Told noLongerNeeded(String catheter, String at) {
    return add(
        new NeedReview(next(at), Optional.empty(), new CatheterId(catheter), false, wounds()));
  }

  public Told secured(String catheter, String at) {
    return add(
        new SecurementChange(
            next(at), Optional.empty(), new CatheterId(catheter), Optional.of("left thigh")));
  }

  public Told checked(String catheter, String at) {
    return add(
        new CareCheck(
            next(at),
            Optional.empty(),
            new CatheterId(catheter),
            Map.of(CareItem.CLOSED_SYSTEM, false, CareItem.BAG_OFF_FLOOR, true)));
  }

  public Told urine(String ml, int hours, String at) {
    Envelope envelope = next(at);
    return add(
        new UrineOutput(
            envelope,
            Optional.empty(),
            envelope.occurredAt().minus(Duration.ofHours(hours)),
            new BigDecimal(ml),
            Optional.empty()));
  }

  public Told weighed(String kg, String at) {
    return add(new BodyWeight(next(at), Optional.empty(), new BigDecimal(kg)));
  }

  public Told sampled(String catheter, String at) {
    return add(
        new SpecimenCollection(
            next(at),
            Optional.empty(),
            new CatheterId(catheter),
            Optional.of(SpecimenPurpose.CULTURE)));
  }

  private static Optional<StatedIndication> wounds() {
    return Optional.of(
        new StatedIndication(Indication.OPEN_WOUND_INCONTINENCE, Optional.of("sacrum")));
  }

  private Told add(BedsideEvent event) {
    events.add(event);
    return this;
  }

  private Envelope next(String at) {
    Instant time = Instant.parse("2026-03-" + at.replace(' ', 'T') + ":00Z");
    return new Envelope(key(events.size()), 1, time, PATIENT, Optional.empty());
  }

  private static Placing placing(String catheter, Route route) {
    return new Placing(
        new CatheterId(catheter),
        route,
        Drainage.BAG,
        new Product(
            16,
            Optional.of(new BigDecimal("10")),
            Optional.of("silicone"),
            OptionalInt.of(2),
            Optional.of("L-17"),
            Optional.of("(01)17"),
            OptionalInt.of(28)),
        new StatedIndication(Indication.ACUTE_RETENTION, Optional.of("after epidural")),
        Optional.empty(),
        new InsertionFindings(
            Optional.of(new BigDecimal("9.5")),
            Optional.of(new BigDecimal("450")),
            Optional.of(true),
            OptionalInt.of(2),
            Optional.empty()),
        Map.of(InsertionStep.HAND_HYGIENE, StepResult.DONE));
  }
}
