package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.rule.SettingsHistory;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.WardMapper;
import indwell.fhir.map.WardSettingsExtension;
import indwell.fhir.term.Extensions;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hl7.fhir.r4.model.Location;

/**
 * Looks up what holds in the house, from the configuration and from the Locations of a state. A
 * Location is parsed once a version.
 */
final class HouseBook {
  private final Facility facility;
  private final Map<ResourceKey, Parsed> parsed = new ConcurrentHashMap<>();

  /** What events make of a ward has neither kind nor settings: it does not describe itself. */
  private record Parsed(
      int version, Ward ward, boolean describesItself, SettingsHistory settings) {}

  HouseBook(Facility facility) {
    this.facility = facility;
  }

  /** What holds by that state. */
  HouseRules read(Reading state) {
    Map<Ward, SettingsHistory> own = new HashMap<>();
    for (StoredResource location : state.locations()) {
      Parsed one = parse(location);
      if (one.describesItself()) {
        own.put(one.ward(), one.settings());
      }
    }
    return new HouseRules(facility, own);
  }

  private Parsed parse(StoredResource location) {
    return parsed.compute(
        location.key(),
        (key, before) ->
            before != null && before.version() == location.version() ? before : fresh(location));
  }

  private static Parsed fresh(StoredResource stored) {
    Location location = (Location) FhirJson.parse(stored.json());
    return new Parsed(
        stored.version(),
        WardMapper.fromFhir(location),
        location.hasType() || location.hasExtension(Extensions.WARD_SETTINGS),
        WardSettingsExtension.fromFhir(location));
  }
}
