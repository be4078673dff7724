package indwell.usecase.publish;

import indwell.fhir.publish.Outgoing;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.Upstream.Sending;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.hl7.fhir.r4.model.Resource;

/** Which ids resources have at the other server. */
public enum Addressing {
  /** Ours: it takes the ids that it is sent. */
  OURS {
    @Override
    String id(ResourceKey key, Optional<Publication> known) {
      return key.id();
    }
  },
  /** Its own: resources are found by their identifiers. */
  THEIRS {
    @Override
    String id(ResourceKey key, Optional<Publication> known) {
      return known.map(Publication::theirId).orElse("");
    }
  };

  /** The id that the resource has there; empty when that is not known. */
  abstract String id(ResourceKey key, Optional<Publication> known);

  /** The references that the other server knows the resources by. */
  UnaryOperator<String> references(Map<ResourceKey, Publication> known) {
    return reference ->
        SendOrder.key(reference)
            .flatMap(
                key ->
                    Optional.of(id(key, Optional.ofNullable(known.get(key))))
                        .filter(id -> !id.isEmpty())
                        .map(id -> key.type() + "/" + id))
            .orElse(reference);
  }

  /**
   * What to send.
   *
   * @param resource with our id and our references
   * @param known how far each was told, that of this one and of those it refers to
   */
  Sending sending(ResourceKey key, Resource resource, Map<ResourceKey, Publication> known) {
    Optional<Publication> state = Optional.ofNullable(known.get(key));
    Resource addressed = Outgoing.addressed(resource, references(known));
    String id = id(key, state);
    String version = state.map(Publication::theirVersion).orElse("");
    if (this == OURS) {
      return new Sending(addressed, id, "", version);
    }
    Outgoing.tagged(addressed, key.reference());
    addressed.setId(id);
    String criterion = Outgoing.criterion(addressed, key.reference());
    return new Sending(addressed, id, id.isEmpty() ? criterion : "", id.isEmpty() ? "" : version);
  }
}
