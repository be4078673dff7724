package indwell.usecase.transaction;

import indwell.domain.event.EventKey;
import indwell.fhir.map.ResourceId;
import java.util.Optional;
import org.hl7.fhir.r4.model.Identifier;

/**
 * What a resource that was sent is here.
 *
 * @param identifier as the resource carries it here
 * @param event the event that it makes or is part of; of a stay, its movements say so
 */
record Identity(ResourceId id, Identifier identifier, Optional<EventKey> event) {}
