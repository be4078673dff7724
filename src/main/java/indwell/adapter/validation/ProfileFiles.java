package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import org.hl7.fhir.instance.model.api.IBaseResource;

/**
 * The conformance resources of {@code fhir-profiles} on the class path. {@code index.json} lists
 * them, since the entries of a jar cannot be listed through a class loader.
 */
final class ProfileFiles {
  private static final String FOLDER = "/fhir-profiles/";

  private ProfileFiles() {}

  /** Names of the files, as the index gives them. */
  static List<String> names() {
    List<String> names = new ArrayList<>();
    try (InputStream in = open("index.json");
        JsonParser json = new JsonFactory().createParser(in)) {
      while (json.nextToken() != null) {
        if (json.currentToken() == JsonToken.VALUE_STRING) {
          names.add(json.getText());
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return names;
  }

  /** The resources, in the order of the index. */
  static List<IBaseResource> load(FhirContext fhir) {
    List<IBaseResource> resources = new ArrayList<>();
    for (String name : names()) {
      resources.add(fhir.newJsonParser().parseResource(new ByteArrayInputStream(bytes(name))));
    }
    return resources;
  }

  /** What is in a file. */
  static byte[] bytes(String name) {
    try (InputStream in = open(name)) {
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static InputStream open(String name) {
    InputStream in = ProfileFiles.class.getResourceAsStream(FOLDER + name);
    if (in == null) {
      throw new IllegalStateException("The class path lacks " + FOLDER + name + ".");
    }
    return in;
  }
}
