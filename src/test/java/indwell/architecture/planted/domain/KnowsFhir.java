package indwell.architecture.planted.domain;

import org.hl7.fhir.r4.model.Patient;

/** Planted: a domain class that knows a FHIR structure. */
public final class KnowsFhir {

  public Patient patient() {
    return new Patient();
  }
}
