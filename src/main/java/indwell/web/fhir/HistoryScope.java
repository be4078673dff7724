package indwell.web.fhir;

import indwell.usecase.ReadResources;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.CapabilityStatement.SystemRestfulInteraction;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/** Whose history is asked for. */
enum HistoryScope {
  INSTANCE("{type}/{id}/_history"),
  TYPE("{type}/_history"),
  SYSTEM("_history");

  private final String path;

  HistoryScope(String path) {
    this.path = path;
  }

  Route route() {
    return Route.of(
        Set.of("GET"), path, this == SYSTEM ? Set.of() : Set.copyOf(ReadResources.TYPES));
  }

  Optional<String> type(FhirRequest request) {
    return this == SYSTEM ? Optional.empty() : Optional.of(request.type());
  }

  Optional<String> id(FhirRequest request) {
    return this == INSTANCE ? Optional.of(request.id()) : Optional.empty();
  }

  void describe(Capabilities capabilities) {
    switch (this) {
      case SYSTEM -> capabilities.interaction(SystemRestfulInteraction.HISTORYSYSTEM);
      case TYPE ->
          ReadResources.TYPES.forEach(
              type -> capabilities.interaction(type, TypeRestfulInteraction.HISTORYTYPE));
      case INSTANCE ->
          ReadResources.TYPES.forEach(
              type -> capabilities.interaction(type, TypeRestfulInteraction.HISTORYINSTANCE));
    }
  }
}
