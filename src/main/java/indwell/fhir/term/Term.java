package indwell.fhir.term;

import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;

/**
 * A concept of a code system.
 *
 * @param display as the code system prints it
 */
public record Term(String system, String code, String display) {

  /** A fresh Coding; resources are mutable, so no two may share one. */
  public Coding coding() {
    return new Coding(system, code, display);
  }

  /** A fresh CodeableConcept with this one coding. */
  public CodeableConcept concept() {
    return new CodeableConcept(coding());
  }

  /** Whether one of the codings is this concept. */
  public boolean isIn(CodeableConcept concept) {
    return concept.getCoding().stream().anyMatch(this::is);
  }

  private boolean is(Coding coding) {
    return system.equals(coding.getSystem()) && code.equals(coding.getCode());
  }
}
