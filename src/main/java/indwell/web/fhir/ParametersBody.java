package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** The parts of a Parameters resource; a resource in one of them is kept byte for byte. */
final class ParametersBody {
  private static final JsonFactory JSON = new JsonFactory();

  private ParametersBody() {}

  /**
   * One parameter.
   *
   * @param value its simple value as text; of a reference, the literal one
   * @param resource its resource as it was sent
   */
  record Part(String name, Optional<String> value, Optional<byte[]> resource) {}

  /** Reads the parts of a body that is a Parameters resource and has passed the gate. */
  static List<Part> parts(byte[] body) {
    List<Part> parts = new ArrayList<>();
    try (JsonParser json = JSON.createParser(body)) {
      json.nextToken();
      while (json.nextToken() == JsonToken.FIELD_NAME) {
        boolean isParameter = json.currentName().equals("parameter");
        if (json.nextToken() == JsonToken.START_ARRAY && isParameter) {
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
    while (json.nextToken() != JsonToken.END_ARRAY) {
      if (json.currentToken() == JsonToken.START_OBJECT) {
        parts.add(readPart(json, body));
      } else {
        json.skipChildren();
      }
    }
  }

  private static Part readPart(JsonParser json, byte[] body) throws IOException {
    String name = "";
    Optional<String> value = Optional.empty();
    Optional<byte[]> resource = Optional.empty();
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String field = json.currentName();
      JsonToken token = json.nextToken();
      if (field.equals("name") && token == JsonToken.VALUE_STRING) {
        name = json.getText();
      } else if (field.startsWith("value") && token.isScalarValue()) {
        value = Optional.of(json.getText());
      } else if (field.equals("valueReference") && token == JsonToken.START_OBJECT) {
        value = reference(json);
      } else if (field.equals("resource") && token == JsonToken.START_OBJECT) {
        resource = Optional.of(slice(json, body));
      } else {
        json.skipChildren();
      }
    }
    return new Part(name, value, resource);
  }

  /** The literal one; what stands beside it says the same or nothing. */
  private static Optional<String> reference(JsonParser json) throws IOException {
    Optional<String> literal = Optional.empty();
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      boolean isLiteral = json.currentName().equals("reference");
      if (json.nextToken() == JsonToken.VALUE_STRING && isLiteral) {
        literal = Optional.of(json.getText());
      } else {
        json.skipChildren();
      }
    }
    return literal;
  }

  private static byte[] slice(JsonParser json, byte[] body) throws IOException {
    int start = Math.toIntExact(json.currentTokenLocation().getByteOffset());
    json.skipChildren();
    int end = Math.toIntExact(json.currentLocation().getByteOffset());
    return Arrays.copyOfRange(body, start, end);
  }
}
