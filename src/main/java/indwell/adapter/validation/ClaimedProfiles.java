package indwell.adapter.validation;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Reads {@code meta.profile} from a resource without reading in the rest of it. */
final class ClaimedProfiles {
  private static final JsonFactory JSON = new JsonFactory();

  private ClaimedProfiles() {}

  /** The canonical URLs; none from what is no JSON object, of which the validator will say so. */
  static List<String> of(byte[] resource) {
    List<String> profiles = new ArrayList<>();
    try (JsonParser json = JSON.createParser(resource)) {
      if (json.nextToken() == JsonToken.START_OBJECT
          && into(json, "meta", JsonToken.START_OBJECT)) {
        if (into(json, "profile", JsonToken.START_ARRAY)) {
          while (json.nextToken() == JsonToken.VALUE_STRING) {
            profiles.add(json.getText());
          }
        }
      }
    } catch (IOException e) {
      return List.of();
    }
    return profiles;
  }

  /** Every profile that is claimed at any depth, and the URL of every extension. */
  static Set<String> andExtensions(byte[] resource) {
    Set<String> named = new LinkedHashSet<>();
    try (JsonParser json = JSON.createParser(resource)) {
      for (JsonToken token = json.nextToken(); token != null; token = json.nextToken()) {
        String member = json.currentName();
        boolean isProfile = token == JsonToken.START_ARRAY && "profile".equals(member);
        if (isProfile) {
          while (json.nextToken() == JsonToken.VALUE_STRING) {
            named.add(json.getText());
          }
        } else if (token == JsonToken.VALUE_STRING && "url".equals(member)) {
          named.add(json.getText());
        }
      }
    } catch (IOException e) {
      // The validator tells what is broken; what was named before is named all the same.
      return named;
    }
    return named;
  }

  /**
   * Moves to the value of a member of the object at hand; false if it is absent or of another kind.
   */
  private static boolean into(JsonParser json, String member, JsonToken kind) throws IOException {
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      boolean found = json.currentName().equals(member);
      JsonToken value = json.nextToken();
      if (found) {
        return value == kind;
      }
      json.skipChildren();
    }
    return false;
  }
}
