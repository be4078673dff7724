package indwell.usecase.transaction;

import indwell.domain.event.EventKey;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Extensions;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Resource;

/** The movements that a stay tells. */
final class Movements {
  private static final String EVENT = "event";

  private Movements() {}

  /** Their events; none for what is no stay. */
  static List<EventKey> keys(Resource resource) {
    List<EventKey> keys = new ArrayList<>();
    if (resource instanceof Encounter encounter) {
      for (Extension movement : encounter.getExtensionsByUrl(Extensions.MOVEMENT)) {
        Optional.ofNullable(movement.getExtensionByUrl(EVENT))
            .map(part -> (Identifier) part.getValue())
            .ifPresent(event -> keys.add(EventIdentifier.read(event)));
      }
    }
    return keys;
  }
}
