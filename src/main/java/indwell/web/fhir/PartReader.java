package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.domain.refusal.IssueCode;
import indwell.web.fhir.ParametersBody.Part;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Reads one parameter of a Parameters resource. */
final class PartReader {
  private static final JsonForm FORM = new JsonForm(IssueCode.BAD_RESOURCE);

  private static final Set<String> KNOWN =
      Set.of("extension", "id", "name", "part", "resource", "value[x]");

  private final JsonParser json;
  private final byte[] body;
  private final String at;
  private String name = "";
  private final List<String> contents = new ArrayList<>();
  private Optional<String> value = Optional.empty();
  private Optional<byte[]> resource = Optional.empty();

  /**
   * @param json stands at the value that should be a parameter
   * @param at where that is
   */
  PartReader(JsonParser json, byte[] body, String at) {
    this.json = json;
    this.body = body;
    this.at = at;
  }

  Part read() throws IOException {
    FORM.require("The parameter", JsonToken.START_OBJECT, json.currentToken(), at);
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String element = json.currentName();
      json.nextToken();
      Optional<JsonToken> written = OpenType.written(element);
      if (written.isPresent()) {
        require(element, written.get());
        contents.add(element);
        value = value(element);
      } else {
        take(element);
      }
    }
    requireName();
    requireOne();
    return new Part(name, value, resource);
  }

  private void take(String element) throws IOException {
    switch (element) {
      case "name" -> {
        require(element, JsonToken.VALUE_STRING);
        name = json.getText();
      }
      case "resource" -> {
        require(element, JsonToken.START_OBJECT);
        contents.add(element);
        resource = Optional.of(slice());
      }
      case "part" -> {
        require(element, JsonToken.START_ARRAY);
        contents.add(element);
        json.skipChildren();
      }
      default -> {
        FORM.requireKnown(KNOWN, extended(element), at);
        json.skipChildren();
      }
    }
  }

  /**
   * The element itself, or the primitive that it adds extensions to, which says the same without.
   */
  private static String extended(String element) {
    String primitive = element.startsWith("_") ? element.substring(1) : element;
    return OpenType.written(primitive).isPresent() ? "value[x]" : primitive;
  }

  private void require(String element, JsonToken kind) {
    FORM.requireElement(element, kind, json.currentToken(), at);
  }

  private void requireName() {
    if (name.isEmpty()) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          at + ".name",
          "The parameter has no name; expected that of a parameter of the operation.");
    }
  }

  /** Invariant inv-1 of R4. */
  private void requireOne() {
    if (contents.size() > 1) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          at,
          "Parameter "
              + Shown.text(name)
              + " has "
              + String.join(" and ", contents)
              + "; expected one value, resource or list of parts.");
    }
  }

  private Optional<String> value(String element) throws IOException {
    if (json.currentToken().isScalarValue()) {
      return Optional.of(json.getText());
    }
    if (element.equals("valueReference")) {
      return reference();
    }
    json.skipChildren();
    return Optional.empty();
  }

  /** The literal one; what stands beside it says the same or nothing. */
  private Optional<String> reference() throws IOException {
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

  private byte[] slice() throws IOException {
    int start = Math.toIntExact(json.currentTokenLocation().getByteOffset());
    json.skipChildren();
    int end = Math.toIntExact(json.currentLocation().getByteOffset());
    return Arrays.copyOfRange(body, start, end);
  }
}
