package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import indwell.port.ExportJob;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/**
 * The list of the files of an export.
 *
 * <p>Source: https://hl7.org/fhir/uv/bulkdata/STU3/export.html#response---output-manifest
 */
final class ExportManifest {
  private static final JsonFactory JSON = new JsonFactory();

  private ExportManifest() {}

  /**
   * Of a finished job.
   *
   * @param base absolute URL of {@code /fhir} as the caller knows it now
   * @param tokenNeeded whether files are fetched with a token, as the export was ordered with one
   */
  static String of(String base, boolean tokenNeeded, ExportJob job) {
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      json.writeStringField("transactionTime", job.transactionTime().toString());
      json.writeStringField("request", job.order().url());
      json.writeBooleanField("requiresAccessToken", tokenNeeded);
      String folder = base + "/$export/" + job.id() + "/";
      write(json, "output", Kind.OUTPUT, job, folder);
      write(json, "deleted", Kind.DELETED, job, folder);
      write(json, "error", Kind.ERROR, job, folder);
      json.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString();
  }

  private static void write(
      JsonGenerator json, String name, Kind kind, ExportJob job, String folder) throws IOException {
    json.writeArrayFieldStart(name);
    for (ExportFile file : job.files()) {
      if (file.kind() == kind) {
        json.writeStartObject();
        json.writeStringField("type", file.type());
        json.writeStringField("url", folder + file.name());
        json.writeNumberField("count", file.count());
        json.writeEndObject();
      }
    }
    json.writeEndArray();
  }
}
