package indwell.boot.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/** One JSON object a resource and line, sound ones too; the issues are shaped as of an event. */
final class JsonReport implements Report {
  private static final JsonFactory JSON = new JsonFactory();

  private final PrintWriter out;

  JsonReport(PrintWriter out) {
    this.out = out;
  }

  @Override
  public void add(Judged one) {
    StringWriter line = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(line)) {
      write(one, json);
    } catch (IOException e) {
      throw new UncheckedIOException("Writing to memory cannot fail", e);
    }
    out.println(line);
  }

  @Override
  public void close() {
    out.flush();
  }

  private static void write(Judged one, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("file", one.fileName());
    json.writeNumberField("line", one.line());
    if (!one.type().isEmpty()) {
      json.writeStringField("resourceType", one.type());
    }
    if (!one.id().isEmpty()) {
      json.writeStringField("id", one.id());
    }
    json.writeArrayFieldStart("profiles");
    for (String profile : one.profiles()) {
      json.writeString(profile);
    }
    json.writeEndArray();
    json.writeBooleanField("valid", !one.hasErrors());
    json.writeArrayFieldStart("issues");
    for (Finding finding : one.findings()) {
      write(finding, json);
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  private static void write(Finding finding, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("severity", finding.severity().code());
    json.writeStringField("code", finding.code());
    json.writeStringField("diagnostics", finding.message());
    if (!finding.expression().isEmpty()) {
      json.writeStringField("expression", finding.expression());
    }
    if (finding.place().isPresent()) {
      json.writeNumberField("line", finding.place().get().line());
      json.writeNumberField("column", finding.place().get().column());
    }
    if (finding.rule().isPresent()) {
      json.writeObjectFieldStart("rule");
      json.writeStringField("kind", finding.rule().get().kind());
      json.writeStringField("name", finding.rule().get().name());
      if (!finding.rule().get().profile().isEmpty()) {
        json.writeStringField("profile", finding.rule().get().profile());
      }
      json.writeEndObject();
    }
    json.writeEndObject();
  }
}
