package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.usecase.ReadResources;
import java.util.List;
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

  /** One resource is read, all of a type are searched (SMART App Launch 2.2.0, scopes). */
  List<Need> needs(FhirRequest request) {
    return switch (this) {
      case INSTANCE -> List.of(Need.of(request.type(), Permission.READ));
      case TYPE -> List.of(Need.of(request.type(), Permission.SEARCH));
      case SYSTEM ->
          ReadResources.TYPES.stream()
              .sorted()
              .map(type -> Need.of(type, Permission.SEARCH))
              .toList();
    };
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
