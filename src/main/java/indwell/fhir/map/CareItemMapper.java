package indwell.fhir.map;

import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.fhir.term.BedsideTerms;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import java.util.Optional;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.Observation;

/** One item of a care check: in order or not. */
public final class CareItemMapper {
  private CareItemMapper() {}

  record Content(Measured measured, CareItem item, boolean inOrder) {
    static Content of(CareCheck bare, CareItem item, boolean inOrder) {
      Measured measured = Measured.further(bare, item.code(), Optional.of(bare.catheter()));
      return new Content(measured, item, inOrder);
    }
  }

  static Observation toFhir(Content content, MappingContext context) {
    Measured measured = content.measured();
    Observation observation =
        Parts.observation(measured, Profiles.CARE_ITEM, Hl7.EXAM, BedsideTerms.of(content.item()));
    observation.addPartOf(ResourceId.ofEvent("Procedure", measured.key()).reference());
    observation.setEffective(context.dateTime(measured.at()));
    observation.setValue(new BooleanType(content.inOrder()));
    return observation;
  }

  /** Which item an Observation is about. */
  static CareItem item(Observation observation) {
    String code = observation.getCode().getCodingFirstRep().getCode();
    return CareItem.ofCode(code).orElseThrow();
  }
}
