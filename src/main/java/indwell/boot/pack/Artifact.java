package indwell.boot.pack;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A resource in the package.
 *
 * @param fileName without folders
 * @param json as it is packed
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record Artifact(String fileName, byte[] json) {
  private static final JsonFactory JSON = new JsonFactory();

  static Artifact of(String fileName, String json) {
    return new Artifact(fileName, json.getBytes(StandardCharsets.UTF_8));
  }

  /** The texts at the top of the resource, by their names. */
  Map<String, String> head() throws IOException {
    Map<String, String> head = new LinkedHashMap<>();
    try (JsonParser parser = JSON.createParser(json)) {
      parser.nextToken();
      while (parser.nextToken() == JsonToken.FIELD_NAME) {
        String name = parser.currentName();
        JsonToken value = parser.nextToken();
        if (value == JsonToken.VALUE_STRING) {
          head.put(name, parser.getText());
        } else {
          parser.skipChildren();
        }
      }
    }
    return head;
  }
}
