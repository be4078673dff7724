package indwell.fhir.term;

import indwell.domain.event.Indication;
import indwell.domain.event.StatedIndication;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;

/**
 * Indications as concepts of our own code system, with the SNOMED CT concept of the same meaning
 * beside it where there is one. An open wound with incontinence would take two concepts at once, so
 * it has none.
 */
public final class IndicationTerms {
  /** Code system {@code catheter-indication}. */
  public static final String SYSTEM = Systems.codeSystem("catheter-indication");

  private IndicationTerms() {}

  /** Our own concept. */
  public static Term local(Indication indication) {
    return new Term(SYSTEM, indication.code(), display(indication));
  }

  /** Codings of an indication, with what was written beside it as text. */
  public static CodeableConcept concept(StatedIndication stated) {
    CodeableConcept concept = local(stated.code()).concept();
    snomed(stated.code()).map(Term::coding).ifPresent(concept::addCoding);
    stated.text().ifPresent(concept::setText);
    return concept;
  }

  /** Reads an indication back; empty when no coding is one of ours. */
  public static Optional<StatedIndication> read(CodeableConcept concept) {
    return concept.getCoding().stream()
        .filter(coding -> SYSTEM.equals(coding.getSystem()))
        .map(Coding::getCode)
        .flatMap(code -> Indication.ofCode(code).stream())
        .findFirst()
        .map(code -> new StatedIndication(code, Optional.ofNullable(concept.getText())));
  }

  private static String display(Indication indication) {
    return switch (indication) {
      case ACUTE_RETENTION -> "Acute urinary retention";
      case OUTLET_OBSTRUCTION -> "Bladder outlet obstruction";
      case CRITICAL_ILLNESS_OUTPUT -> "Accurate urine output in critical illness";
      case PERIOPERATIVE -> "Perioperative use";
      case OPEN_WOUND_INCONTINENCE -> "Open sacral or perineal wound with incontinence";
      case PROLONGED_IMMOBILISATION -> "Prolonged immobilisation";
      case END_OF_LIFE_COMFORT -> "Comfort at the end of life";
      case OTHER -> "Other indication";
      case INCONTINENCE_CARE -> "Convenience of incontinence care";
      case URINE_SAMPLING -> "Obtaining urine for tests";
    };
  }

  /** Source: SNOMED Global Patient Set (International edition 2020-07-31). */
  static Optional<Term> snomed(Indication indication) {
    return switch (indication) {
      case ACUTE_RETENTION ->
          Optional.of(Snomed.of("236648008", "Acute retention of urine (disorder)"));
      case OUTLET_OBSTRUCTION ->
          Optional.of(Snomed.of("236645006", "Bladder outflow obstruction (disorder)"));
      case PROLONGED_IMMOBILISATION -> Optional.of(Snomed.of("102491009", "Immobile (finding)"));
      case END_OF_LIFE_COMFORT ->
          Optional.of(Snomed.of("103735009", "Palliative care (regime/therapy)"));
      case CRITICAL_ILLNESS_OUTPUT,
          PERIOPERATIVE,
          OPEN_WOUND_INCONTINENCE,
          OTHER,
          INCONTINENCE_CARE,
          URINE_SAMPLING ->
          Optional.empty();
    };
  }
}
