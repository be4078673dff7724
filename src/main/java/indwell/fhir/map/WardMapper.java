package indwell.fhir.map;

import indwell.domain.event.Ward;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import java.util.Optional;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Location;

/** A ward, known by its code. */
public final class WardMapper {
  private WardMapper() {}

  /** The Location of a ward of which nothing but its code is known. */
  public static Location of(Ward ward) {
    return toFhir(ward);
  }

  /** The same of a ward that says what kind it is. */
  public static Location of(Ward ward, Optional<Coding> kind) {
    Location location = toFhir(ward);
    kind.ifPresent(coding -> location.addType().addCoding(coding.copy()));
    return location;
  }

  static Location toFhir(Ward ward) {
    Location location = Parts.claim(new Location(), ResourceId.ward(ward), Profiles.WARD);
    location.addIdentifier().setSystem(Systems.WARD).setValue(ward.code());
    location.setStatus(Location.LocationStatus.ACTIVE);
    location.setName(ward.code());
    location.setMode(Location.LocationMode.INSTANCE);
    location.setPhysicalType(Hl7.WARD.concept());
    return location;
  }

  /** What kind of ward it is for surveillance, if it says so. */
  public static Optional<Coding> kind(Location location) {
    return location.getType().stream()
        .flatMap(type -> type.getCoding().stream())
        .filter(coding -> Systems.HSLOC.equals(coding.getSystem()) && coding.hasCode())
        .findFirst();
  }

  /** The ward that a Location is. */
  public static Ward fromFhir(Location location) {
    return new Ward(location.getIdElement().getIdPart());
  }
}
