package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.port.StoredResource;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.UUID;

/** Writes Bundles around resources that are text already, without reading them again. */
final class BundleJson {
  private static final JsonFactory JSON = new JsonFactory();

  private BundleJson() {}

  /**
   * One entry.
   *
   * @param fullUrl identity of the resource
   * @param json the resource
   * @param parts further elements of the entry by name, as JSON
   */
  record Entry(String fullUrl, String json, Map<String, String> parts) {

    /** A resource that is known at the base. */
    static Entry of(String base, String type, String id, String json) {
      return new Entry(base + "/" + type + "/" + id, json, Map.of());
    }

    /** A resource as it is stored. */
    static Entry of(String base, StoredResource stored) {
      return of(base, stored.key().type(), stored.key().id(), stored.json());
    }

    /** A resource without an id; equal texts get the same identity. */
    static Entry unnamed(String json) {
      UUID uuid = UUID.nameUUIDFromBytes(json.getBytes(StandardCharsets.UTF_8));
      return new Entry("urn:uuid:" + uuid, json, Map.of());
    }

    Entry with(String name, String value) {
      return new Entry(fullUrl, json, Map.of(name, value));
    }
  }

  /**
   * A Bundle.
   *
   * @param type its code
   * @param links URLs by relation
   */
  static String of(
      String type, OptionalLong total, Map<String, String> links, List<Entry> entries) {
    return object(
        json -> {
          json.writeStringField("resourceType", "Bundle");
          json.writeStringField("type", type);
          if (total.isPresent()) {
            json.writeNumberField("total", total.getAsLong());
          }
          writeLinks(json, links);
          writeEntries(json, entries);
        });
  }

  /** A Bundle of type collection. */
  static String collection(List<Entry> entries) {
    return of("collection", OptionalLong.empty(), Map.of(), entries);
  }

  private static void writeLinks(JsonGenerator json, Map<String, String> links) throws IOException {
    if (links.isEmpty()) {
      return;
    }
    json.writeArrayFieldStart("link");
    for (Map.Entry<String, String> link : links.entrySet()) {
      json.writeStartObject();
      json.writeStringField("relation", link.getKey());
      json.writeStringField("url", link.getValue());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private static void writeEntries(JsonGenerator json, List<Entry> entries) throws IOException {
    if (entries.isEmpty()) {
      return;
    }
    json.writeArrayFieldStart("entry");
    for (Entry entry : entries) {
      json.writeStartObject();
      json.writeStringField("fullUrl", entry.fullUrl());
      writeRaw(json, "resource", entry.json());
      // FHIR asks for no order of names, but equal Bundles are to be equal texts.
      for (String name : entry.parts().keySet().stream().sorted().toList()) {
        writeRaw(json, name, Optional.ofNullable(entry.parts().get(name)).orElseThrow());
      }
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private static void writeRaw(JsonGenerator json, String name, String value) throws IOException {
    json.writeFieldName(name);
    json.writeRawValue(value);
  }

  /** Writes the content of an object. */
  @FunctionalInterface
  interface Content {
    void writeTo(JsonGenerator json) throws IOException;
  }

  /** An object as text. */
  static String object(Content content) {
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      content.writeTo(json);
      json.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException("Writing to memory cannot fail", e);
    }
    return text.toString();
  }
}
