package indwell.fhir.map;

import indwell.fhir.term.Hl7;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import org.hl7.fhir.r4.model.Observation;

/** The volume that was put into the balloon: an event, not a property of the product. */
public final class BalloonVolumeMapper {
  private BalloonVolumeMapper() {}

  static Observation toFhir(InsertionVolume volume, MappingContext context) {
    return volume.complete(
        Parts.observation(
            volume.measured(), Profiles.BALLOON_VOLUME, Hl7.EXAM, LocalCodes.BALLOON_VOLUME),
        context);
  }
}
