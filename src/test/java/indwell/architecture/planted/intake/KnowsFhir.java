package indwell.architecture.planted.intake;

import org.hl7.fhir.r4.model.Patient;

/** Planted: an intake class that knows a FHIR structure. */
public final class KnowsFhir {

  public Patient patient() {
    return new Patient();
  }
}
