package indwell.boot.pack;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Map;

/**
 * The two files by which a FHIR package is read.
 *
 * <p>Source: FHIR NPM package specification,
 * https://confluence.hl7.org/display/FHIR/NPM+Package+Specification (its fields from memory)
 */
final class Manifests {
  static final String NAME = "indwell.fhir.r4";
  private static final String BASE = "https://indwell.example/fhir";
  private static final JsonFactory JSON = new JsonFactory();

  /** What readers want to know of a file before they open it. */
  private static final List<String> INDEXED =
      List.of("resourceType", "id", "url", "version", "kind", "type");

  private Manifests() {}

  /** A piece of JSON. */
  @FunctionalInterface
  private interface Writing {
    void to(JsonGenerator json) throws IOException;
  }

  /**
   * {@code package.json}.
   *
   * @param version of the package
   * @param date of its artifacts
   */
  static byte[] description(String version, LocalDate date) throws IOException {
    return written(
        json -> {
          json.writeStringField("name", NAME);
          json.writeStringField("version", version);
          json.writeNumberField("tools-version", 3);
          json.writeStringField("type", "Conformance");
          json.writeStringField("date", DateTimeFormatter.BASIC_ISO_DATE.format(date) + "000000");
          json.writeStringField("license", "Apache-2.0");
          json.writeStringField("canonical", BASE);
          json.writeStringField("url", BASE);
          json.writeStringField("title", "Indwell");
          json.writeStringField(
              "description",
              "Profiles, extensions, terminology, operations and search parameters for indwelling"
                  + " urinary catheters and their device days.");
          json.writeStringField("author", "Indwell");
          json.writeArrayFieldStart("fhirVersions");
          json.writeString("4.0.1");
          json.writeEndArray();
          json.writeObjectFieldStart("dependencies");
          json.writeStringField("hl7.fhir.r4.core", "4.0.1");
          json.writeEndObject();
          json.writeStringField(
              "jurisdiction", "http://unstats.un.org/unsd/methods/m49/m49.htm#001");
        });
  }

  /** {@code .index.json} of a folder. */
  static byte[] index(List<Artifact> artifacts) throws IOException {
    return written(
        json -> {
          json.writeNumberField("index-version", 2);
          json.writeArrayFieldStart("files");
          for (Artifact artifact : artifacts) {
            Map<String, String> head = artifact.head();
            json.writeStartObject();
            json.writeStringField("filename", artifact.fileName());
            for (String name : INDEXED) {
              if (head.containsKey(name)) {
                json.writeStringField(name, head.get(name));
              }
            }
            json.writeEndObject();
          }
          json.writeEndArray();
        });
  }

  private static byte[] written(Writing content) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes)) {
      json.setPrettyPrinter(new DefaultPrettyPrinter());
      json.writeStartObject();
      content.to(json);
      json.writeEndObject();
    }
    return bytes.toByteArray();
  }
}
