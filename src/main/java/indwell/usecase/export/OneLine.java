package indwell.usecase.export;

import ca.uhn.fhir.parser.DataFormatException;
import indwell.fhir.map.FhirJson;
import indwell.port.StoredResource;
import java.util.Optional;

/** The text of a resource as a line. Stored texts are lines already and go as they are. */
final class OneLine {
  private OneLine() {}

  /** Empty when the stored text is none of a resource. */
  static Optional<String> of(StoredResource resource) {
    String json = resource.json();
    if (json.indexOf('\n') < 0 && json.indexOf('\r') < 0) {
      return json.startsWith("{") && json.endsWith("}") ? Optional.of(json) : Optional.empty();
    }
    try {
      return Optional.of(FhirJson.encode(FhirJson.parse(json)));
    } catch (DataFormatException broken) {
      return Optional.empty();
    }
  }
}
