package indwell.intake;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventType;
import indwell.domain.event.Movement;
import indwell.domain.event.PatientMeasurement;
import indwell.domain.event.SpecimenPurpose;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;

/**
 * Reads {@code details}, type by type.
 *
 * @param limits between which times may lie
 * @param occurredAt when the event happened, if that could be read
 */
record DetailsReader(
    ObjectReader details, TimeLimits limits, Optional<Instant> occurredAt, Faults faults) {

  EventMaker read(EventType type) {
    EventMaker maker =
        switch (type) {
          case PATIENT_ADMITTED -> arrival(Movement.Admission::new);
          case PATIENT_TRANSFERRED -> arrival(Movement.Transfer::new);
          case PATIENT_DISCHARGED -> discharge();
          case CATHETER_INSERTED -> insertion();
          case CATHETER_REMOVED -> removal();
          case CATHETER_EXCHANGED -> exchange();
          case NEED_REVIEWED -> needReview();
          case SECUREMENT_CHANGED -> securementChange();
          case CARE_CHECKED -> careCheck();
          case URINE_MEASURED -> urineOutput();
          case SPECIMEN_COLLECTED -> specimenCollection();
          case WEIGHT_MEASURED -> bodyWeight();
        };
    details.refuseUnknown();
    return maker;
  }

  /** The constructor that admissions and transfers share in form. */
  @FunctionalInterface
  private interface ArrivalMaker {
    Movement.Arrival make(Envelope envelope, BusinessId encounter, Ward ward, boolean inpatient);
  }

  private EventMaker arrival(ArrivalMaker maker) {
    Optional<String> ward = details.required("ward", Kinds.WARD);
    Optional<Boolean> inpatient = details.optional("inpatient", Kinds.BOOLEAN);
    return (envelope, encounter) ->
        maker.make(
            envelope,
            encounter.orElseThrow(),
            new Ward(ward.orElseThrow()),
            inpatient.orElse(true));
  }

  private EventMaker discharge() {
    Optional<Boolean> withCatheter = details.optional("withCatheter", Kinds.BOOLEAN);
    return (envelope, encounter) ->
        new Movement.Discharge(envelope, encounter.orElseThrow(), withCatheter);
  }

  private EventMaker insertion() {
    PlacingReader placing = PlacingReader.read(details, limits);
    return (envelope, encounter) ->
        new CatheterEvent.Insertion(envelope, encounter.orElseThrow(), placing.value());
  }

  private EventMaker removal() {
    Optional<CatheterId> catheter = requiredCatheter();
    Optional<String> reason = details.optional("reason", Kinds.TEXT);
    return (envelope, encounter) ->
        new CatheterEvent.Removal(envelope, encounter, catheter.orElseThrow(), reason);
  }

  private EventMaker exchange() {
    Optional<CatheterId> old = requiredCatheter();
    Optional<PlacingReader> replacement = details.object("replacement").map(this::replacement);
    replacement.ifPresent(placing -> refuseSameCatheter(old, placing));
    return (envelope, encounter) ->
        new CatheterEvent.Exchange(
            envelope, encounter, old.orElseThrow(), replacement.orElseThrow().value());
  }

  private PlacingReader replacement(ObjectReader inner) {
    PlacingReader placing = PlacingReader.read(inner, limits);
    inner.refuseUnknown();
    return placing;
  }

  private void refuseSameCatheter(Optional<CatheterId> old, PlacingReader replacement) {
    if (old.isPresent() && old.map(CatheterId::value).equals(replacement.catheterId())) {
      faults.add(
          IssueCode.REPLACED_BY_ITSELF,
          details.pathOf("replacement.catheterId"),
          "Catheter %s is replaced by itself; expected another catheterId in the replacement."
              .formatted(Quoted.text(old.get().value())));
    }
  }

  private EventMaker needReview() {
    Optional<CatheterId> catheter = requiredCatheter();
    Optional<Boolean> stillNeeded = details.required("stillNeeded", Kinds.BOOLEAN);
    Optional<StatedIndication> indication =
        IndicationReader.read(details, stillNeeded.orElse(false));
    return (envelope, encounter) ->
        new CatheterEvent.NeedReview(
            envelope, encounter, catheter.orElseThrow(), stillNeeded.orElseThrow(), indication);
  }

  private EventMaker securementChange() {
    Optional<CatheterId> catheter = requiredCatheter();
    Optional<String> site = details.optional("site", Kinds.TEXT);
    return (envelope, encounter) ->
        new CatheterEvent.SecurementChange(envelope, encounter, catheter.orElseThrow(), site);
  }

  private EventMaker careCheck() {
    Optional<CatheterId> catheter = requiredCatheter();
    Optional<Map<CareItem, Boolean>> items = details.required("items", Kinds.ITEMS);
    return (envelope, encounter) ->
        new CatheterEvent.CareCheck(
            envelope, encounter, catheter.orElseThrow(), items.orElseThrow());
  }

  private EventMaker specimenCollection() {
    Optional<CatheterId> catheter = requiredCatheter();
    Optional<SpecimenPurpose> purpose = details.optional("purpose", Kinds.PURPOSE);
    return (envelope, encounter) ->
        new CatheterEvent.SpecimenCollection(envelope, encounter, catheter.orElseThrow(), purpose);
  }

  private EventMaker urineOutput() {
    Optional<BigDecimal> volume = details.required("volumeMl", Kinds.URINE);
    Optional<Instant> from = details.required("from", new TimeKind(TimeLimits.WRITABLE));
    Optional<CatheterId> catheter = details.optional("catheterId", Kinds.TEXT).map(CatheterId::new);
    from.ifPresent(start -> occurredAt.ifPresent(end -> refuseEmpty(start, end)));
    return (envelope, encounter) ->
        new PatientMeasurement.UrineOutput(
            envelope, encounter, from.orElseThrow(), volume.orElseThrow(), catheter);
  }

  private void refuseEmpty(Instant from, Instant end) {
    if (!from.isBefore(end)) {
      faults.add(
          IssueCode.EMPTY_INTERVAL,
          details.pathOf("from"),
          "Interval from %s to %s does not end after it starts; expected from before occurredAt."
              .formatted(from, end));
    }
  }

  private EventMaker bodyWeight() {
    Optional<BigDecimal> kg = details.required("kg", Kinds.WEIGHT);
    return (envelope, encounter) ->
        new PatientMeasurement.BodyWeight(envelope, encounter, kg.orElseThrow());
  }

  private Optional<CatheterId> requiredCatheter() {
    return details.required("catheterId", Kinds.TEXT).map(CatheterId::new);
  }
}
