package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.Envelope;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.fhir.term.Ucum;
import java.util.Optional;

/**
 * Events without what no clinical resource carries: version and recorder, which stand in Provenance
 * alone. Numbers lose their trailing zeros, so that bare events are equal whenever the resources
 * made of them are.
 */
public final class Bare {
  private Bare() {}

  /** The same event, version 1, without recorder. */
  public static BedsideEvent of(BedsideEvent event) {
    Envelope envelope = of(event.envelope());
    return switch (event.type()) {
      case PATIENT_ADMITTED -> of((Admission) event, envelope);
      case PATIENT_TRANSFERRED -> of((Transfer) event, envelope);
      case PATIENT_DISCHARGED -> of((Discharge) event, envelope);
      case CATHETER_INSERTED -> of((Insertion) event, envelope);
      case CATHETER_EXCHANGED -> of((Exchange) event, envelope);
      case CATHETER_REMOVED -> of((Removal) event, envelope);
      case NEED_REVIEWED -> of((NeedReview) event, envelope);
      case SECUREMENT_CHANGED -> of((SecurementChange) event, envelope);
      case CARE_CHECKED -> of((CareCheck) event, envelope);
      case SPECIMEN_COLLECTED -> of((SpecimenCollection) event, envelope);
      case URINE_MEASURED -> of((UrineOutput) event, envelope);
      case WEIGHT_MEASURED -> of((BodyWeight) event, envelope);
    };
  }

  private static Envelope of(Envelope full) {
    return new Envelope(full.key(), 1, full.occurredAt(), full.patient(), Optional.empty());
  }

  private static BedsideEvent of(Admission full, Envelope envelope) {
    return new Admission(envelope, full.encounter(), full.ward(), full.inpatient());
  }

  private static BedsideEvent of(Transfer full, Envelope envelope) {
    return new Transfer(envelope, full.encounter(), full.ward(), full.inpatient());
  }

  private static BedsideEvent of(Discharge full, Envelope envelope) {
    return new Discharge(envelope, full.encounter(), full.withCatheter());
  }

  private static BedsideEvent of(Insertion full, Envelope envelope) {
    return new Insertion(envelope, full.encounter(), of(full.placing()));
  }

  private static BedsideEvent of(Exchange full, Envelope envelope) {
    return new Exchange(envelope, full.encounterNamed(), full.catheter(), of(full.replacement()));
  }

  private static BedsideEvent of(Removal full, Envelope envelope) {
    return new Removal(envelope, full.encounterNamed(), full.catheter(), full.reason());
  }

  private static BedsideEvent of(NeedReview full, Envelope envelope) {
    return new NeedReview(
        envelope, full.encounterNamed(), full.catheter(), full.stillNeeded(), full.indication());
  }

  private static BedsideEvent of(SecurementChange full, Envelope envelope) {
    return new SecurementChange(envelope, full.encounterNamed(), full.catheter(), full.site());
  }

  private static BedsideEvent of(CareCheck full, Envelope envelope) {
    return new CareCheck(envelope, full.encounterNamed(), full.catheter(), full.items());
  }

  private static BedsideEvent of(SpecimenCollection full, Envelope envelope) {
    return new SpecimenCollection(envelope, full.encounterNamed(), full.catheter(), full.purpose());
  }

  private static BedsideEvent of(UrineOutput full, Envelope envelope) {
    return new UrineOutput(
        envelope, full.encounterNamed(), full.from(), Ucum.plain(full.volumeMl()), full.catheter());
  }

  private static BedsideEvent of(BodyWeight full, Envelope envelope) {
    return new BodyWeight(envelope, full.encounterNamed(), Ucum.plain(full.kg()));
  }

  private static Placing of(Placing full) {
    return new Placing(
        full.catheter(),
        full.route(),
        full.drainage(),
        of(full.product()),
        full.indication(),
        full.surgeryEndedAt(),
        of(full.findings()),
        full.steps());
  }

  static Product of(Product full) {
    return new Product(
        full.sizeCh(),
        full.balloonLabelMl().map(Ucum::plain),
        full.material(),
        full.lumens(),
        full.lotNumber(),
        full.udi(),
        full.maxDwellDays());
  }

  private static InsertionFindings of(InsertionFindings full) {
    return new InsertionFindings(
        full.balloonFilledMl().map(Ucum::plain),
        full.urineReturnedMl().map(Ucum::plain),
        full.specimenTaken(),
        full.attempts(),
        full.insertedBeforeAdmission());
  }
}
