package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads a Bundle that has passed the gate; its resources are kept byte for byte. */
final class BundleReader {
  private static final JsonFactory JSON = new JsonFactory();
  private static final Set<String> OF_ENTRY = Set.of("id", "extension", "link", "request");

  /** Of the entries of answers, which nobody asks anything by. */
  private static final Set<String> OF_ANSWER =
      Set.of("id", "extension", "link", "request", "search", "response");

  private static final Set<String> OF_REQUEST =
      Set.of("method", "url", "ifNoneMatch", "ifModifiedSince", "ifMatch", "ifNoneExist");

  private final byte[] body;
  private final Set<String> known;
  private String type = "";
  private final List<BundleEntry> entries = new ArrayList<>();

  private BundleReader(byte[] body, Set<String> known) {
    this.body = body;
    this.known = known;
  }

  /**
   * A Bundle as it was sent.
   *
   * @param type its code, or nothing
   */
  record Sent(String type, List<BundleEntry> entries) {
    Sent {
      entries = List.copyOf(entries);
    }
  }

  /**
   * Reads one that asks for something.
   *
   * @throws FhirRefusal 400 for an entry that has what is not known, 422 for implicit rules
   */
  static Sent read(byte[] body) {
    return read(body, OF_ENTRY);
  }

  /**
   * Reads one that holds resources, whatever it was made for.
   *
   * @throws FhirRefusal 400 for an entry that has what is not known, 422 for implicit rules
   */
  static Sent readCollection(byte[] body) {
    return read(body, OF_ANSWER);
  }

  private static Sent read(byte[] body, Set<String> known) {
    BundleReader reader = new BundleReader(body, known);
    try (JsonParser json = JSON.createParser(body)) {
      reader.read(json);
    } catch (IOException e) {
      throw new UncheckedIOException("The gate has read this body before", e);
    }
    return new Sent(reader.type, reader.entries);
  }

  private void read(JsonParser json) throws IOException {
    json.nextToken();
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      JsonToken token = json.nextToken();
      if (name.equals("type") && token == JsonToken.VALUE_STRING) {
        type = json.getText();
      } else if (name.equals("entry") && token == JsonToken.START_ARRAY) {
        while (json.nextToken() != JsonToken.END_ARRAY) {
          entries.add(entry(json));
        }
      } else if (name.equals("implicitRules") && token == JsonToken.VALUE_STRING) {
        throw byOtherRules(json.getText());
      } else {
        json.skipChildren();
      }
    }
  }

  /** Source: https://hl7.org/fhir/R4/resource-definitions.html#Resource.implicitRules */
  private static FhirRefusal byOtherRules(String rules) {
    return FhirRefusal.of(
        422,
        IssueCode.MODIFIER_NOT_UNDERSTOOD,
        "Bundle.implicitRules",
        "Rules "
            + Shown.text(rules)
            + " at implicitRules cannot be understood; expected a Bundle without them.");
  }

  private BundleEntry entry(JsonParser json) throws IOException {
    int index = entries.size();
    Optional<String> fullUrl = Optional.empty();
    Map<String, String> request = Map.of();
    Optional<byte[]> resource = Optional.empty();
    requireObject(json, "Bundle.entry[" + index + "]");
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      JsonToken token = json.nextToken();
      if (name.equals("fullUrl") && token == JsonToken.VALUE_STRING) {
        fullUrl = Optional.of(json.getText());
      } else if (name.equals("request") && token == JsonToken.START_OBJECT) {
        request = request(json, index);
      } else if (name.equals("resource") && token == JsonToken.START_OBJECT) {
        resource = Optional.of(slice(json));
      } else {
        requireKnown(known, name, "Bundle.entry[" + index + "]");
        json.skipChildren();
      }
    }
    return new BundleEntry(index, fullUrl, request, resource);
  }

  /** A condition that is spelled wrong must not be passed over. */
  private static Map<String, String> request(JsonParser json, int index) throws IOException {
    Map<String, String> request = new HashMap<>();
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      JsonToken token = json.nextToken();
      if (OF_REQUEST.contains(name) && token == JsonToken.VALUE_STRING) {
        request.put(name, json.getText());
      } else {
        requireKnown(Set.of("id", "extension"), name, "Bundle.entry[" + index + "].request");
        json.skipChildren();
      }
    }
    return request;
  }

  private byte[] slice(JsonParser json) throws IOException {
    int start = Math.toIntExact(json.currentTokenLocation().getByteOffset());
    json.skipChildren();
    int end = Math.toIntExact(json.currentLocation().getByteOffset());
    return Arrays.copyOfRange(body, start, end);
  }

  private static void requireObject(JsonParser json, String at) {
    if (json.currentToken() != JsonToken.START_OBJECT) {
      throw FhirRefusal.of(
          400, IssueCode.BAD_BUNDLE, at, "The entry is no object; expected one with a request.");
    }
  }

  private static void requireKnown(Set<String> known, String name, String at) {
    if (!known.contains(name)) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_BUNDLE,
          at,
          "Element "
              + Shown.text(name)
              + " has no place here, or not this value; expected fullUrl, resource and request"
              + " with method, url and conditions.");
    }
  }
}
