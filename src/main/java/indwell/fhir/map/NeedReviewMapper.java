package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.StatedIndication;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.IndicationTerms;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Observation;

/** The answer to the question whether a catheter is still needed, and what for. */
public final class NeedReviewMapper {
  private NeedReviewMapper() {}

  static Observation toFhir(NeedReview review, MappingContext context) {
    Observation observation =
        Parts.observation(
            Measured.first(review, Optional.of(review.catheter())),
            Profiles.NEED_REVIEW,
            Hl7.EXAM,
            LocalCodes.NEED_REVIEW,
            Snomed.INDICATION_FOR_PROCEDURE);
    observation.setEffective(context.dateTime(review.at()));
    Optional<CodeableConcept> indication = review.indication().map(IndicationTerms::concept);
    if (review.stillNeeded()) {
      observation.setValue(indication.orElseThrow());
      return observation;
    }
    observation.setValue(Snomed.NOT_INDICATED.concept());
    indication.ifPresent(stated -> addStated(observation, stated));
    return observation;
  }

  private static void addStated(Observation observation, CodeableConcept indication) {
    observation.addComponent().setCode(LocalCodes.STATED_INDICATION.concept()).setValue(indication);
  }

  /** The event, bare. */
  public static NeedReview fromFhir(Observation observation, PatientResources all) {
    boolean needed = !Snomed.NOT_INDICATED.isIn(observation.getValueCodeableConcept());
    CodeableConcept stated =
        needed
            ? observation.getValueCodeableConcept()
            : observation.getComponentFirstRep().getValueCodeableConcept();
    Optional<StatedIndication> indication =
        Optional.ofNullable(stated).flatMap(IndicationTerms::read);
    return new NeedReview(
        ObservationReader.envelope(observation, all),
        all.encounter(observation.getEncounter()),
        all.catheter(observation.getFocusFirstRep()),
        needed,
        indication);
  }
}
