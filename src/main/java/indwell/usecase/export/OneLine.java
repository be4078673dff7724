package indwell.usecase.export;

import ca.uhn.fhir.parser.DataFormatException;
import indwell.fhir.map.FhirJson;
import indwell.port.ResourceText;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** The text of a resource as a line. Stored texts are lines already and go as they are. */
final class OneLine {
  private OneLine() {}

  /** Empty when the stored text is none of a resource. */
  static Optional<byte[]> of(ResourceText resource) {
    byte[] json = resource.utf8().array();
    if (isOneLine(json)) {
      return json.length > 1 && json[0] == '{' && json[json.length - 1] == '}'
          ? Optional.of(json)
          : Optional.empty();
    }
    try {
      String text = FhirJson.encode(FhirJson.parse(new String(json, StandardCharsets.UTF_8)));
      return Optional.of(text.getBytes(StandardCharsets.UTF_8));
    } catch (DataFormatException broken) {
      return Optional.empty();
    }
  }

  /** Each byte is taken for a character: a text is searched many of them at a time. */
  private static boolean isOneLine(byte[] utf8) {
    String text = new String(utf8, StandardCharsets.ISO_8859_1);
    return text.indexOf('\n') < 0 && text.indexOf('\r') < 0;
  }
}
