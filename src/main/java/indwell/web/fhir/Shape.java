package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.TopElements;
import indwell.web.fhir.QueryText.Parameter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * How much of a resource an answer gives. What is less than the whole is tagged {@code SUBSETTED},
 * so that nobody takes it for the whole; id, meta, mandatory elements and those that change the
 * meaning of others are always there.
 *
 * <p>Source: https://hl7.org/fhir/R4/search.html#elements and #summary
 */
record Shape(Kind kind, Set<String> elements) {
  static final String SUMMARY = "_summary";
  static final String ELEMENTS = "_elements";

  /** The two parameters, for whoever reads one resource. */
  static final Set<String> NAMES = Set.of(SUMMARY, ELEMENTS);

  /** All of it, just as it is. */
  static final Shape WHOLE = new Shape(Kind.WHOLE, Set.of());

  private static final JsonFactory JSON = new JsonFactory();

  Shape {
    elements = Set.copyOf(elements);
  }

  /** What is left of a resource. */
  enum Kind {
    WHOLE,
    /** The elements that R4 marks so. */
    SUMMARY,
    /** The narrative and what has to be there. */
    TEXT,
    /** All but the narrative. */
    DATA,
    /** The elements that were asked for. */
    ELEMENTS
  }

  /**
   * Reads the parameters.
   *
   * @param summary value of {@code _summary}, one of R4's
   * @throws FhirRefusal 400 for an element that the type does not have, and for both parameters
   */
  static Shape of(String type, String summary, List<Parameter> given) {
    Set<String> elements = elements(type, given);
    Kind kind =
        switch (summary) {
          case "true" -> Kind.SUMMARY;
          case "text" -> Kind.TEXT;
          case "data" -> Kind.DATA;
          default -> Kind.WHOLE;
        };
    if (elements.isEmpty()) {
      return new Shape(kind, Set.of());
    }
    if (kind != Kind.WHOLE) {
      throw FhirRefusal.badParameter(
          ELEMENTS,
          "Parameter _elements does not go with _summary="
              + summary
              + "; expected one of the two parameters.");
    }
    return new Shape(Kind.ELEMENTS, elements);
  }

  /**
   * Reads the parameters of a read.
   *
   * @throws FhirRefusal 400 for any other parameter and for a value that it cannot have
   */
  static Shape of(FhirRequest request) {
    OperationInput.of(
        request.parameters().stream().filter(one -> !one.name().equals(ELEMENTS)).toList(),
        NAMES,
        request.lenient());
    String summary =
        ResultParameters.oneOf(
            request.parameters(), SUMMARY, List.of("false", "true", "text", "data"));
    return of(request.type(), summary, request.parameters());
  }

  private static Set<String> elements(String type, List<Parameter> given) {
    Set<String> elements = new HashSet<>();
    TopElements known = TopElements.of(type);
    for (Parameter one : given) {
      if (one.name().equals(ELEMENTS)) {
        Arrays.stream(one.value().split(",", -1)).map(String::strip).forEach(elements::add);
      }
    }
    for (String name : elements) {
      if (!known.has(name)) {
        throw FhirRefusal.badParameter(
            ELEMENTS,
            "Element "
                + Shown.text(name)
                + " is none of "
                + type
                + "; expected one of "
                + String.join(", ", known.names())
                + ".");
      }
    }
    return elements;
  }

  /** Adds both parameters to the CapabilityStatement. */
  static void describe(Capabilities capabilities) {
    capabilities.shape(
        ELEMENTS,
        "Of a read, a vread and a search: only these elements at the top of a resource, and those"
            + " that are mandatory or change the meaning of others. What a search includes is"
            + " whole.");
    capabilities.shape(
        SUMMARY,
        "Of a read, a vread and a search: true, text, data or false; of a search also count.");
  }

  /** For a resource that a search adds to what it was asked for: elements are those of matches. */
  Shape ofIncluded() {
    return kind == Kind.ELEMENTS ? WHOLE : this;
  }

  /** The part of a resource. */
  String of(String type, String json) {
    return switch (kind) {
      case WHOLE -> json;
      case SUMMARY -> only(json, Optional.of(TopElements.of(type).summary()));
      case TEXT -> only(json, Optional.of(TopElements.of(type).some(Set.of("text"))));
      case DATA -> only(json, Optional.empty());
      case ELEMENTS -> only(json, Optional.of(TopElements.of(type).some(elements)));
    };
  }

  /**
   * Leaves elements out; numbers and texts stay as they are written.
   *
   * @param kept their names in JSON; empty for all but the narrative
   */
  private static String only(String json, Optional<Set<String>> kept) {
    StringWriter text = new StringWriter();
    try (JsonParser whole = JSON.createParser(json);
        JsonGenerator part = JSON.createGenerator(text)) {
      whole.nextToken();
      part.writeStartObject();
      while (whole.nextToken() == JsonToken.FIELD_NAME) {
        String name = whole.currentName();
        whole.nextToken();
        String element = name.startsWith("_") ? name.substring(1) : name;
        if (name.equals("meta")) {
          copyMeta(whole, part);
        } else if (kept.map(names -> names.contains(element)).orElse(!element.equals("text"))) {
          part.writeFieldName(name);
          part.copyCurrentStructureExact(whole);
        } else {
          whole.skipChildren();
        }
      }
      part.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException("What is answered is JSON", e);
    }
    return text.toString();
  }

  /** Every resource of ours has one. */
  private static void copyMeta(JsonParser whole, JsonGenerator part) throws IOException {
    part.writeObjectFieldStart("meta");
    boolean tagged = false;
    while (whole.nextToken() == JsonToken.FIELD_NAME) {
      String name = whole.currentName();
      whole.nextToken();
      if (name.equals("tag")) {
        tagged = true;
        part.writeArrayFieldStart(name);
        while (whole.nextToken() != JsonToken.END_ARRAY) {
          part.copyCurrentStructureExact(whole);
        }
        writeTag(part);
        part.writeEndArray();
      } else {
        part.writeFieldName(name);
        part.copyCurrentStructureExact(whole);
      }
    }
    if (!tagged) {
      part.writeArrayFieldStart("tag");
      writeTag(part);
      part.writeEndArray();
    }
    part.writeEndObject();
  }

  private static void writeTag(JsonGenerator part) throws IOException {
    part.writeStartObject();
    part.writeStringField("system", FhirJson.PART_SYSTEM);
    part.writeStringField("code", FhirJson.PART);
    part.writeEndObject();
  }
}
