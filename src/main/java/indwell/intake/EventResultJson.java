package indwell.intake;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.domain.refusal.Issue;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;

/** Writes answers as JSON: a single object, an array of them, or lines. */
public final class EventResultJson {
  private static final JsonFactory JSON = new JsonFactory();

  private EventResultJson() {}

  /** One answer as an object, without a line end. */
  public static byte[] object(EventResult result) {
    return bytes(json -> write(result, json));
  }

  /** Answers as an array, in their order. */
  public static byte[] array(List<EventResult> results) {
    return bytes(
        json -> {
          json.writeStartArray();
          for (EventResult result : results) {
            write(result, json);
          }
          json.writeEndArray();
        });
  }

  /** One answer as a line of NDJSON, with its line end. */
  public static byte[] line(EventResult result) {
    return bytes(
        json -> {
          write(result, json);
          json.writeRaw('\n');
        });
  }

  @FunctionalInterface
  private interface Body {
    void writeTo(JsonGenerator json) throws IOException;
  }

  private static byte[] bytes(Body body) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(512);
    try (JsonGenerator json = JSON.createGenerator(out)) {
      body.writeTo(json);
    } catch (IOException e) {
      throw new UncheckedIOException("Writing to memory cannot fail", e);
    }
    return out.toByteArray();
  }

  private static void write(EventResult result, JsonGenerator json) throws IOException {
    json.writeStartObject();
    if (result.index().isPresent()) {
      json.writeNumberField("index", result.index().getAsInt());
    }
    if (result.source().isPresent()) {
      json.writeStringField("source", result.source().get());
    }
    if (result.eventId().isPresent()) {
      json.writeStringField("eventId", result.eventId().get());
    }
    if (result.version().isPresent()) {
      json.writeNumberField("version", result.version().getAsInt());
    }
    json.writeStringField("outcome", result.outcome().code());
    json.writeArrayFieldStart("resources");
    for (String reference : result.resources()) {
      json.writeString(reference);
    }
    json.writeEndArray();
    json.writeArrayFieldStart("issues");
    for (Issue issue : result.issues()) {
      write(issue, json);
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  static void write(Issue issue, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("severity", issue.severity().code());
    json.writeStringField("code", issue.code().code());
    json.writeStringField("diagnostics", issue.diagnostics());
    json.writeStringField("expression", issue.expression());
    json.writeEndObject();
  }
}
