package indwell.boot.pack;

import indwell.adapter.validation.GroundworkPacking;
import indwell.fhir.map.FhirJson;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Prepares the definitions of the validator when the program is built, so that it starts sooner.
 */
public final class GroundworkFile {
  private GroundworkFile() {}

  /**
   * The way in for the build.
   *
   * @param arguments the folder of the classes that will look for it
   */
  public static void main(String... arguments) throws IOException {
    Path file = Path.of(arguments[0], GroundworkPacking.PATH);
    Files.createDirectories(file.resolveSibling("."));
    Files.write(file, GroundworkPacking.of(FhirJson.context()));
  }
}
