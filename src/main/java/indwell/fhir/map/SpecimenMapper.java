package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.Envelope;
import indwell.domain.event.Route;
import indwell.domain.event.SpecimenPurpose;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Specimen;
import org.hl7.fhir.r4.model.StringType;

/**
 * Urine taken through a catheter. FHIR R4's Specimen knows no encounter, so that the stay an event
 * names is not read back; nothing depends on it.
 */
public final class SpecimenMapper {
  private SpecimenMapper() {}

  /**
   * @param specimen bare, without encounter
   * @param route of the catheter then; urethral when it was never put in place
   */
  record Content(SpecimenCollection specimen, Route route) {
    static Content of(SpecimenCollection bare, Route route) {
      return new Content(
          new SpecimenCollection(
              bare.envelope(), Optional.empty(), bare.catheter(), bare.purpose()),
          route);
    }
  }

  static Specimen toFhir(Content content, MappingContext context) {
    SpecimenCollection event = content.specimen();
    ResourceId id = ResourceId.ofEvent("Specimen", event.key());
    Specimen specimen = Parts.claim(new Specimen(), id, Profiles.SPECIMEN);
    Reference catheter = ResourceId.device(event.patient(), event.catheter()).reference();
    specimen.addExtension(new Extension(Extensions.OF_SPECIMEN, catheter));
    event
        .purpose()
        .map(purpose -> new Extension(Extensions.SPECIMEN_PURPOSE, new CodeType(purpose.code())))
        .ifPresent(specimen::addExtension);
    specimen.addIdentifier(EventIdentifier.of(event.key()));
    specimen.setStatus(Specimen.SpecimenStatus.AVAILABLE);
    specimen.setSubject(ResourceId.patient(event.patient()).reference());
    specimen.getCollection().setCollected(context.dateTime(event.at()));
    describe(specimen, content.route());
    return specimen;
  }

  private static void describe(Specimen specimen, Route route) {
    boolean suprapubic = route == Route.SUPRAPUBIC;
    specimen.setType(
        (suprapubic ? Snomed.SUPRAPUBIC_CATHETER_URINE : Snomed.CATHETER_URINE).concept());
    specimen
        .getCollection()
        .setMethod(
            (suprapubic
                    ? Snomed.COLLECTION_VIA_SUPRAPUBIC_CATHETER
                    : Snomed.COLLECTION_VIA_CATHETER)
                .concept());
  }

  /** The event, bare, without the encounter that it may have named. */
  public static SpecimenCollection fromFhir(Specimen specimen, PatientResources all) {
    Envelope envelope =
        all.envelope(
            specimen.getIdentifierFirstRep(),
            PatientResources.instant(specimen.getCollection().getCollected()),
            specimen.getSubject());
    Extension catheter = specimen.getExtensionByUrl(Extensions.OF_SPECIMEN);
    Optional<SpecimenPurpose> purpose =
        Optional.ofNullable(specimen.getExtensionByUrl(Extensions.SPECIMEN_PURPOSE))
            .map(extension -> ((StringType) extension.getValue()).getValue())
            .flatMap(SpecimenPurpose::ofCode);
    return new SpecimenCollection(
        envelope, Optional.empty(), all.catheter((Reference) catheter.getValue()), purpose);
  }
}
