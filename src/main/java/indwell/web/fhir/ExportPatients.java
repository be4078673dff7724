package indwell.web.fhir;

import indwell.port.ExportOrder.Scope;
import indwell.port.ResourceKey;
import indwell.usecase.ReadResources;
import indwell.usecase.export.Exports;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Reads the patients that an export is to be confined to. */
final class ExportPatients {
  private static final String NAME = "patient";

  private final ReadResources resources;
  private final Exports exports;

  ExportPatients(ReadResources resources, Exports exports) {
    this.resources = resources;
    this.exports = exports;
  }

  /**
   * Their ids.
   *
   * @throws FhirRefusal 400 for one that is not here, and for any at a place that knows none
   */
  Set<String> of(FhirRequest request, ExportInput input, Scope scope, String group) {
    Set<String> ids = new TreeSet<>();
    boolean named = !input.all(NAME).isEmpty();
    if (named && (scope == Scope.SYSTEM || !request.method().equals("POST"))) {
      input.passOver(misplaced());
      return ids;
    }
    Optional<Set<String>> members =
        named && scope == Scope.GROUP ? Optional.of(exports.members(group)) : Optional.empty();
    for (String reference : input.all(NAME)) {
      Optional<String> id = known(request, reference);
      if (id.filter(one -> members.map(all -> all.contains(one)).orElse(true)).isPresent()) {
        ids.add(id.get());
      } else {
        input.passOver(unknown(reference, scope));
      }
    }
    if (named && ids.isEmpty()) {
      // Passing all of them over would turn "these" into "all".
      throw unknown(input.all(NAME).get(0), scope);
    }
    return ids;
  }

  private Optional<String> known(FhirRequest request, String reference) {
    String absolute = request.base() + "/";
    String relative =
        reference.startsWith(absolute) ? reference.substring(absolute.length()) : reference;
    return Optional.of(relative)
        .filter(one -> one.startsWith("Patient/"))
        .map(one -> one.substring("Patient/".length()))
        .filter(id -> resources.read(new ResourceKey("Patient", id)).isPresent());
  }

  private static FhirRefusal misplaced() {
    return FhirRefusal.badParameter(
        NAME,
        "Parameter patient is not known here; expected it in the Parameters of a POST to"
            + " Patient/$export or Group/[id]/$export.");
  }

  private static FhirRefusal unknown(String reference, Scope scope) {
    return FhirRefusal.badParameter(
        NAME,
        "Patient "
            + Shown.text(reference)
            + " is not known here; expected a reference to a stored Patient"
            + (scope == Scope.GROUP ? " of the Group" : "")
            + ".");
  }
}
