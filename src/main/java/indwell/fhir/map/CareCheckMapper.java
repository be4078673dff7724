package indwell.fhir.map;

import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.EnumMap;
import java.util.Map;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;

/** Catheter, tubing and bag are checked; what was found stands in one Observation an item. */
public final class CareCheckMapper {
  private CareCheckMapper() {}

  /** The check without its items, which are no part of the Procedure. */
  static CareCheck withoutItems(CareCheck bare) {
    return new CareCheck(bare.envelope(), bare.encounterNamed(), bare.catheter(), Map.of());
  }

  static Procedure toFhir(CareCheck check, MappingContext context) {
    Procedure procedure = Parts.procedure(check, Profiles.CARE_CHECK, Snomed.CARE, context);
    Parts.focalDevice(procedure, check.patient(), check.catheter(), Hl7.MANIPULATED);
    return procedure;
  }

  /** The event, bare, with the items that are part of the Procedure. */
  public static CareCheck fromFhir(Procedure procedure, PatientResources all) {
    Map<CareItem, Boolean> items = new EnumMap<>(CareItem.class);
    for (Observation part : all.partsOf(procedure, Profiles.CARE_ITEM)) {
      items.put(CareItemMapper.item(part), part.getValueBooleanType().booleanValue());
    }
    return new CareCheck(
        ProcedureReader.envelope(procedure, all),
        ProcedureReader.encounter(procedure, all),
        ProcedureReader.catheter(procedure, Hl7.MANIPULATED, all),
        items);
  }
}
