package indwell.fhir.map;

import indwell.domain.event.InsertionFindings;
import indwell.domain.event.Placing;
import indwell.domain.event.StatedIndication;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.IndicationTerms;
import indwell.fhir.term.Profiles;
import java.math.BigDecimal;
import java.util.Optional;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Reference;

/** What the Procedures of insertion and exchange share: the catheter that was put in. */
final class PlacingParts {
  private PlacingParts() {}

  /** The placing without the volumes, which are Observations of their own. */
  static Placing withoutVolumes(Placing placing) {
    InsertionFindings findings = placing.findings();
    return new Placing(
        placing.catheter(),
        placing.route(),
        placing.drainage(),
        placing.product(),
        placing.indication(),
        placing.surgeryEndedAt(),
        new InsertionFindings(
            Optional.empty(),
            Optional.empty(),
            findings.specimenTaken(),
            findings.attempts(),
            findings.insertedBeforeAdmission()),
        placing.steps());
  }

  static void write(Procedure procedure, Placing placing, MappingContext context) {
    procedure.addExtension(PlacementExtension.toFhir(placing, context));
    StepExtension.toFhir(placing.steps()).forEach(procedure::addExtension);
    procedure.addReasonCode(IndicationTerms.concept(placing.indication()));
    procedure.addBodySite(Parts.bladder());
  }

  /** Reads the placing of the catheter that the reference leads to. */
  static Placing read(Procedure procedure, Reference device, PatientResources all) {
    Extension stated = procedure.getExtensionByUrl(Extensions.PLACEMENT);
    StatedIndication indication =
        IndicationTerms.read(procedure.getReasonCodeFirstRep()).orElseThrow();
    return new Placing(
        all.catheter(device),
        PlacementExtension.route(stated),
        PlacementExtension.drainage(stated),
        PlacementExtension.product(stated),
        indication,
        PlacementExtension.surgeryEndedAt(stated),
        PlacementExtension.findings(
            stated,
            volume(procedure, Profiles.BALLOON_VOLUME, all),
            volume(procedure, Profiles.INITIAL_DRAINAGE, all)),
        StepExtension.fromFhir(procedure.getExtensionsByUrl(Extensions.INSERTION_STEP)));
  }

  private static Optional<BigDecimal> volume(
      Procedure procedure, String profile, PatientResources all) {
    return all.partsOf(procedure, profile).stream()
        .map(part -> part.getValueQuantity().getValue())
        .findFirst();
  }
}
