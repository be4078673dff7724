package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.CRC32;
import org.hl7.fhir.instance.model.api.IBaseResource;

/** A conformance resource of ours: what it is, and the rest as it stands in its file. */
final class OwnFile {
  private static final JsonFactory JSON = new JsonFactory();

  private final byte[] bytes;

  /** Texts that are members of the resource itself. */
  private final Map<String, String> head;

  private OwnFile(byte[] bytes, Map<String, String> head) {
    this.bytes = bytes;
    this.head = head;
  }

  /** All of them, in the order of the index. */
  static List<OwnFile> all() {
    return ProfileFiles.names().stream().map(ProfileFiles::bytes).map(OwnFile::of).toList();
  }

  /** What is another as soon as a byte of any of the files is. */
  static String fingerprint(List<OwnFile> files) {
    CRC32 sum = new CRC32();
    files.forEach(file -> sum.update(file.bytes));
    return Long.toHexString(sum.getValue());
  }

  /** What is in a file. */
  static OwnFile of(byte[] bytes) {
    Map<String, String> head = new HashMap<>();
    try (JsonParser json = JSON.createParser(bytes)) {
      json.nextToken();
      while (json.nextToken() == JsonToken.FIELD_NAME) {
        String member = json.currentName();
        if (json.nextToken() == JsonToken.VALUE_STRING) {
          head.put(member, json.getText());
        }
        json.skipChildren();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return new OwnFile(bytes, head);
  }

  /** Of resource. */
  String type() {
    return text("resourceType");
  }

  String id() {
    return text("id");
  }

  /** The canonical one. */
  String url() {
    return text("url");
  }

  String version() {
    return text("version");
  }

  /** Of a structure: what it describes. */
  String kind() {
    return text("kind");
  }

  private String text(String member) {
    return head.getOrDefault(member, "");
  }

  /** The whole of it. */
  IBaseResource parse(FhirContext fhir) {
    return fhir.newJsonParser().parseResource(new ByteArrayInputStream(bytes));
  }
}
