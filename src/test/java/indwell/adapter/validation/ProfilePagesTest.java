package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The pages of {@code docs/profiles} are made of the files of {@code fhir-profiles}. {@code
 * -Dindwell.golden.write=true} writes them anew instead of comparing.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ProfilePagesTest {
  private static final Path FOLDER = Path.of("docs/profiles");

  /** Written by hand. */
  private static final String PACKAGE = "package.md";

  private static Map<String, String> pages() {
    List<ProfilePage> all =
        Cases.conformance().stream()
            .filter(file -> Cases.name(file).startsWith("StructureDefinition-"))
            .map(ProfilePage::new)
            .toList();
    Map<String, String> pages = new TreeMap<>();
    all.forEach(page -> pages.put(page.fileName(), page.render()));
    pages.put("README.md", new ProfileIndex(all).render());
    return pages;
  }

  @Test
  void the_pages_are_those_of_the_files() throws IOException {
    Map<String, String> pages = pages();
    if (Boolean.getBoolean("indwell.golden.write")) {
      Files.createDirectories(FOLDER);
      for (Map.Entry<String, String> page : pages.entrySet()) {
        Files.writeString(FOLDER.resolve(page.getKey()), page.getValue());
      }
    }
    Map<String, String> found = new TreeMap<>();
    try (Stream<Path> files = Files.list(FOLDER)) {
      for (Path file : files.toList()) {
        found.put(Cases.name(file), Files.readString(file));
      }
    }
    assertThat(found.remove(PACKAGE)).isNotNull();
    assertThat(found).isEqualTo(pages);
  }
}
