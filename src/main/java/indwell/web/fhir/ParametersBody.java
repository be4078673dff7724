package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The parts of a Parameters resource, as every operation reads them; a resource in one of them is
 * kept byte for byte.
 *
 * <p>Source: https://hl7.org/fhir/R4/parameters.html
 */
final class ParametersBody {
  private static final JsonFactory JSON = new JsonFactory();
  private static final JsonForm FORM = new JsonForm(IssueCode.BAD_RESOURCE);
  private static final Set<String> KNOWN = JsonForm.root("parameter");

  private ParametersBody() {}

  /**
   * One parameter.
   *
   * @param value its simple value as text; of a reference, the literal one
   * @param resource its resource as it was sent
   */
  record Part(String name, Optional<String> value, Optional<byte[]> resource) {}

  /**
   * Reads the parts of a body that is a Parameters resource and has passed the gate.
   *
   * @throws FhirRefusal 400 for what R4 does not know there, for what is not of its kind, and for a
   *     parameter without a name or with more than one value
   */
  static List<Part> parts(byte[] body) {
    List<Part> parts = new ArrayList<>();
    try (JsonParser json = JSON.createParser(body)) {
      json.nextToken();
      while (json.nextToken() == JsonToken.FIELD_NAME) {
        String name = json.currentName();
        FORM.requireKnown(KNOWN, name, "Parameters");
        if (json.nextToken() != null && name.equals("parameter")) {
          readParts(json, body, parts);
        } else {
          json.skipChildren();
        }
      }
      return parts;
    } catch (IOException e) {
      throw new UncheckedIOException("The gate has read this body before", e);
    }
  }

  private static void readParts(JsonParser json, byte[] body, List<Part> parts) throws IOException {
    FORM.requireElement("parameter", JsonToken.START_ARRAY, json.currentToken(), "Parameters");
    while (json.nextToken() != JsonToken.END_ARRAY) {
      String at = "Parameters.parameter[" + parts.size() + "]";
      parts.add(new PartReader(json, body, at).read());
    }
  }
}
