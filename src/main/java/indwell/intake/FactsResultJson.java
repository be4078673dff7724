package indwell.intake;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.domain.refusal.Issue;
import indwell.domain.surveillance.WardMonth;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;

/** Writes answers about facts as JSON, in the style of the answers to events. */
public final class FactsResultJson {
  private static final JsonFactory JSON = new JsonFactory();

  private FactsResultJson() {}

  /** One answer as an object. */
  public static byte[] object(FactsResult result) {
    return bytes(json -> write(result, json));
  }

  /** Answers as an array, in their order. */
  public static byte[] array(List<FactsResult> results) {
    return bytes(
        json -> {
          json.writeStartArray();
          for (FactsResult result : results) {
            write(result, json);
          }
          json.writeEndArray();
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

  private static void write(FactsResult result, JsonGenerator json) throws IOException {
    json.writeStartObject();
    if (result.month().isPresent()) {
      WardMonth month = result.month().get();
      json.writeStringField("ward", month.ward().code());
      json.writeStringField("month", month.month().toString());
    }
    if (result.version().isPresent()) {
      json.writeNumberField("version", result.version().getAsInt());
    }
    json.writeStringField("outcome", result.outcome().code());
    json.writeArrayFieldStart("issues");
    for (Issue issue : result.issues()) {
      EventResultJson.write(issue, json);
    }
    json.writeEndArray();
    json.writeEndObject();
  }
}
