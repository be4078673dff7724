package indwell.usecase.sent;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.SettingsHistory;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.PatientResources;
import indwell.fhir.map.WardMapper;
import indwell.fhir.map.WardSettingsExtension;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import java.util.HashMap;
import java.util.Map;
import org.hl7.fhir.r4.model.Location;

/**
 * The wards that were sent: their codes, what they set for themselves, and how an answer shows
 * them.
 */
final class SentWards {
  private final Map<Ward, SettingsHistory> settings = new HashMap<>();
  private final Map<Ward, String> locations = new HashMap<>();

  /** Takes the Location of a ward. */
  void add(SentResource sent, Unread unread) {
    Ward ward = of(sent);
    String json = SentReader.text(sent.json());
    try {
      Location location = (Location) FhirJson.parse(json);
      boolean isOurs =
          sent.id().filter(ward.code()::equals).isPresent()
              && PatientResources.claims(location, Profiles.WARD);
      locations.put(
          ward, isOurs ? json : FhirJson.encode(WardMapper.of(ward, WardMapper.kind(location))));
      SettingsHistory own = WardSettingsExtension.fromFhir(location);
      if (json.contains(Systems.HSLOC) || !own.entries().isEmpty()) {
        settings.put(ward, own);
      }
    } catch (RuntimeException unreadable) {
      unread.add(
          sent.name(),
          Issue.error(
              IssueCode.NOT_COUNTABLE,
              sent.place().at("Location.extension"),
              "Its settings cannot be read; expected what its profile asks for."));
    }
  }

  /** The ward that a Location is: by its identifier of ours, else its first one, else its id. */
  static Ward of(SentResource location) {
    return location.identifiers().stream()
        .filter(identifier -> identifier.system().equals(Systems.WARD))
        .findFirst()
        .or(() -> location.identifiers().stream().findFirst())
        .map(BusinessId::value)
        .or(location::id)
        .map(Ward::new)
        .orElseGet(() -> new Ward(location.key()));
  }

  /** What wards set for themselves. */
  Map<Ward, SettingsHistory> settings() {
    return settings;
  }

  /** The Location of a ward as an answer shows it. */
  String location(Ward ward) {
    return locations.computeIfAbsent(ward, one -> FhirJson.encode(WardMapper.of(one)));
  }
}
