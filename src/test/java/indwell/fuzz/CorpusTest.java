package indwell.fuzz;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicContainer.dynamicContainer;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Every file of the corpus once, without a fuzzer: what was found stays mended. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CorpusTest {

  @TestFactory
  Stream<DynamicNode> every_file_of_the_corpus_is_answered() throws IOException {
    List<DynamicNode> all = new ArrayList<>();
    for (Targets targets : Targets.values()) {
      Target target = targets.open();
      List<DynamicTest> files = new ArrayList<>();
      for (Path file : targets.corpus()) {
        files.add(
            dynamicTest(
                file.getFileName().toString(), () -> target.take(Files.readAllBytes(file))));
      }
      all.add(dynamicContainer(targets.title(), files));
    }
    return all.stream();
  }

  @Test
  void each_way_in_has_a_corpus_of_small_files() throws IOException {
    for (Targets targets : Targets.values()) {
      assertThat(targets.corpus())
          .as(targets.title())
          .hasSizeGreaterThan(5)
          .allSatisfy(file -> assertThat(Files.size(file)).isLessThan(8192));
    }
  }

  @Test
  void no_folder_of_the_corpus_is_left_out() throws IOException {
    try (Stream<Path> folders = Files.list(Targets.CORPUS)) {
      assertThat(folders.map(folder -> folder.getFileName().toString()))
          .containsExactlyInAnyOrder(
              Arrays.stream(Targets.values()).map(Targets::title).toArray(String[]::new));
    }
  }
}
