package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.port.ProfileValidator.Finding;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What is said about broken resources, word for word: each block of {@code sentences.txt} is a
 * resource in one line and all that is found in it. {@code -Dindwell.golden.write=true} writes the
 * findings anew.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentencesTest {
  private static final Path FILE =
      Path.of("src/test/resources/indwell/adapter/validation/sentences.txt");

  @Test
  void each_broken_resource_gets_its_sentences() throws Exception {
    List<String> blocks = new ArrayList<>();
    for (String block : Files.readString(FILE).strip().split("\n\n")) {
      String resource = block.lines().findFirst().orElseThrow();
      blocks.add(resource.startsWith("#") ? block : block(resource));
    }
    String actual = String.join("\n\n", blocks) + "\n";
    if (Boolean.getBoolean("indwell.golden.write")) {
      Files.writeString(FILE, actual);
    }
    assertThat(actual).isEqualTo(Files.readString(FILE));
  }

  private static String block(String resource) {
    StringBuilder block = new StringBuilder(resource);
    for (Finding finding : Cases.VALIDATOR.validate(resource.getBytes(UTF_8))) {
      String column = finding.place().map(place -> ":" + place.column()).orElse("");
      block.append("\n  ").append(column).append(' ').append(finding.line());
    }
    return block.toString();
  }
}
