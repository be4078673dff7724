package indwell.boot.pack;

import indwell.adapter.validation.CompletedProfiles;
import indwell.fhir.map.FhirJson;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.StructureDefinition;

/**
 * Makes a FHIR package of the folder {@code fhir-profiles}: all artifacts, the profiles completed
 * with their snapshots, and the valid cases as examples.
 */
public final class ProfilePackage {
  private static final String STATEMENT = "CapabilityStatement-indwell.json";
  private static final String INDEX = "index.json";

  private ProfilePackage() {}

  /**
   * The way in for the build.
   *
   * @param arguments the folder, and the file to write
   */
  public static void main(String... arguments) throws IOException {
    write(Path.of(arguments[0]), Path.of(arguments[1]));
  }

  /** Writes the package; the same folder always gives the same bytes. */
  public static void write(Path folder, Path target) throws IOException {
    List<Artifact> artifacts = artifacts(folder);
    List<Artifact> examples = read(folder.resolve("cases/valid"));
    Map<String, String> statement =
        artifacts.stream()
            .filter(one -> one.fileName().equals(STATEMENT))
            .findFirst()
            .orElseThrow(() -> new IllegalStateException(folder + " lacks " + STATEMENT))
            .head();
    LocalDate date = LocalDate.parse(statement.getOrDefault("date", ""));
    SortedMap<String, byte[]> files = new TreeMap<>();
    files.put(
        "package/package.json", Manifests.description(statement.getOrDefault("version", ""), date));
    add(files, "package/", artifacts);
    add(files, "package/example/", examples);
    Tarball.write(target, files, date.atStartOfDay(ZoneOffset.UTC).toInstant());
  }

  private static void add(SortedMap<String, byte[]> files, String folder, List<Artifact> artifacts)
      throws IOException {
    files.put(folder + ".index.json", Manifests.index(artifacts));
    artifacts.forEach(one -> files.put(folder + one.fileName(), one.json()));
  }

  private static List<Artifact> artifacts(Path folder) throws IOException {
    Map<String, String> completed = new HashMap<>();
    for (StructureDefinition profile : CompletedProfiles.of(FhirJson.context())) {
      completed.put(
          "StructureDefinition-" + profile.getIdElement().getIdPart() + ".json",
          FhirJson.encode(profile));
    }
    List<Artifact> artifacts = new ArrayList<>();
    for (Artifact one : read(folder)) {
      String whole = completed.get(one.fileName());
      artifacts.add(whole == null ? one : Artifact.of(one.fileName(), whole));
    }
    return artifacts;
  }

  private static List<Artifact> read(Path folder) throws IOException {
    List<Artifact> artifacts = new ArrayList<>();
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.sorted().toList()) {
        String name = String.valueOf(file.getFileName());
        if (name.endsWith(".json") && !name.equals(INDEX)) {
          artifacts.add(new Artifact(name, Files.readAllBytes(file)));
        }
      }
    }
    return artifacts;
  }
}
