package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import java.time.Instant;
import java.util.Optional;

/**
 * What every Observation says, whatever was observed.
 *
 * @param name of a further Observation that the event makes; empty for the first
 * @param catheter what it is about, if it is about a catheter
 */
record Measured(
    EventKey key,
    String name,
    Instant at,
    BusinessId patient,
    Optional<BusinessId> encounter,
    Optional<CatheterId> catheter) {

  static Measured first(BedsideEvent event, Optional<CatheterId> catheter) {
    return further(event, "", catheter);
  }

  static Measured further(BedsideEvent event, String name, Optional<CatheterId> catheter) {
    return new Measured(
        event.key(), name, event.at(), event.patient(), event.encounterNamed(), catheter);
  }

  ResourceId id() {
    return name.isEmpty()
        ? ResourceId.ofEvent("Observation", key)
        : ResourceId.ofEvent("Observation", key, name);
  }
}
