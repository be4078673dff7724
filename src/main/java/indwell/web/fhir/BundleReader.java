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
  private static final JsonForm FORM = new JsonForm(IssueCode.BAD_BUNDLE);

  private static final Set<String> OF_BUNDLE =
      JsonForm.root(
          "entry",
          "identifier",
          "link",
          "signature",
          "timestamp",
          "_timestamp",
          "total",
          "_total",
          "type",
          "_type");

  private static final Set<String> OF_ENTRY =
      Set.of("id", "extension", "fullUrl", "link", "request", "resource");

  /** Of the entries of answers, which nobody asks anything by. */
  private static final Set<String> OF_ANSWER =
      Set.of("id", "extension", "fullUrl", "link", "request", "resource", "search", "response");

  private static final Set<String> OF_REQUEST =
      Set.of(
          "id",
          "extension",
          "method",
          "url",
          "ifNoneMatch",
          "ifModifiedSince",
          "ifMatch",
          "ifNoneExist");

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
   * @throws FhirRefusal 400 for one that has what is not known, or not of its kind; 422 for
   *     implicit rules
   */
  static Sent read(byte[] body) {
    return read(body, OF_ENTRY);
  }

  /**
   * Reads one that holds resources, whatever it was made for.
   *
   * @throws FhirRefusal 400 for one that has what is not known, or not of its kind; 422 for
   *     implicit rules
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
      FORM.requireKnown(OF_BUNDLE, name, "Bundle");
      JsonToken token = json.nextToken();
      switch (name) {
        case "type" -> {
          FORM.requireElement(name, JsonToken.VALUE_STRING, token, "Bundle");
          type = json.getText();
        }
        case "entry" -> {
          FORM.requireElement(name, JsonToken.START_ARRAY, token, "Bundle");
          while (json.nextToken() != JsonToken.END_ARRAY) {
            entries.add(entry(json));
          }
        }
        case "implicitRules" -> {
          FORM.requireElement(name, JsonToken.VALUE_STRING, token, "Bundle");
          throw byOtherRules(json.getText());
        }
        default -> json.skipChildren();
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
    String at = "Bundle.entry[" + index + "]";
    Optional<String> fullUrl = Optional.empty();
    Map<String, String> request = Map.of();
    Optional<byte[]> resource = Optional.empty();
    FORM.require("The entry", JsonToken.START_OBJECT, json.currentToken(), at);
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      FORM.requireKnown(known, name, at);
      JsonToken token = json.nextToken();
      switch (name) {
        case "fullUrl" -> {
          FORM.requireElement(name, JsonToken.VALUE_STRING, token, at);
          fullUrl = Optional.of(json.getText());
        }
        case "request" -> {
          FORM.requireElement(name, JsonToken.START_OBJECT, token, at);
          request = request(json, at + ".request");
        }
        case "resource" -> {
          FORM.requireElement(name, JsonToken.START_OBJECT, token, at);
          resource = Optional.of(slice(json));
        }
        default -> json.skipChildren();
      }
    }
    return new BundleEntry(index, fullUrl, request, resource);
  }

  /** A condition that is spelled wrong must not be passed over. */
  private static Map<String, String> request(JsonParser json, String at) throws IOException {
    Map<String, String> request = new HashMap<>();
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      FORM.requireKnown(OF_REQUEST, name, at);
      JsonToken token = json.nextToken();
      if (name.equals("id") || name.equals("extension")) {
        json.skipChildren();
      } else {
        FORM.requireElement(name, JsonToken.VALUE_STRING, token, at);
        request.put(name, json.getText());
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
}
