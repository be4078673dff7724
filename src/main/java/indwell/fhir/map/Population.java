package indwell.fhir.map;

import indwell.domain.timeline.DayCount;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Nhsn;
import indwell.fhir.term.Term;
import org.hl7.fhir.r4.model.CodeableConcept;

/** A sum of a report, in the order in which reports give them. */
public enum Population {
  DENOMINATOR(Nhsn.PATIENT_DAYS, "Patients with patient days"),
  NUMERATOR(Nhsn.URINARY_CATHETER_DAYS, "Patients with urinary catheter days");

  private final Nhsn nhsn;
  private final String title;

  Population(Nhsn nhsn, String title) {
    this.nhsn = nhsn;
    this.title = title;
  }

  /** The days that count in it. */
  public long of(DayCount count) {
    return switch (this) {
      case DENOMINATOR -> count.patientDays();
      case NUMERATOR -> count.catheterDays();
    };
  }

  /** FHIR's code, {@code denominator}. */
  String code() {
    return term().code();
  }

  /** FHIR's concept, and as a second coding what a submission calls the same. */
  CodeableConcept concept() {
    return term().concept().addCoding(nhsn.coding());
  }

  /** Whether it is the sum with that concept. */
  boolean isIn(CodeableConcept concept) {
    return term().isIn(concept);
  }

  /** For the List of those who count in it. */
  String title() {
    return title;
  }

  private Term term() {
    return switch (this) {
      case DENOMINATOR -> Hl7.DENOMINATOR;
      case NUMERATOR -> Hl7.NUMERATOR;
    };
  }
}
