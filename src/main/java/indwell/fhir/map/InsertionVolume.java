package indwell.fhir.map;

import indwell.fhir.term.Ucum;
import java.math.BigDecimal;
import org.hl7.fhir.r4.model.Observation;

/**
 * A volume that was measured when a catheter was put in.
 *
 * @param ml volume in mL
 */
record InsertionVolume(Measured measured, BigDecimal ml) {
  /** Adds time, value and the Procedure it is part of. */
  Observation complete(Observation observation, MappingContext context) {
    observation.addPartOf(ResourceId.ofEvent("Procedure", measured.key()).reference());
    observation.setEffective(context.dateTime(measured.at()));
    observation.setValue(Ucum.MILLILITRE.quantity(ml));
    return observation;
  }
}
