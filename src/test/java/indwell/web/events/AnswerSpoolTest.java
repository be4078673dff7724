package indwell.web.events;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@DisplayNameGeneration(ReplaceUnderscores.class)
class AnswerSpoolTest {
  @TempDir Path directory;

  private static String takeAll(AnswerSpool spool) {
    StringBuilder text = new StringBuilder();
    while (!spool.isEmpty()) {
      spool.take().ifPresentOrElse(text::append, spool::refill);
    }
    return text.toString();
  }

  @Test
  void answers_come_out_in_the_order_in_which_they_went_in() {
    try (AnswerSpool spool = new AnswerSpool(100, directory)) {
      StringBuilder expected = new StringBuilder();
      for (int i = 0; i < 1_000; i++) {
        spool.append((i + "\n").getBytes(UTF_8));
        expected.append(i).append('\n');
        if (i == 300) {
          assertThat(spool.onFile()).isTrue();
        }
      }
      assertThat(takeAll(spool)).isEqualTo(expected.toString());
    }
  }

  @Test
  void what_comes_after_the_file_was_read_goes_to_memory_again() {
    try (AnswerSpool spool = new AnswerSpool(4, directory)) {
      spool.append("one\n".getBytes(UTF_8));
      spool.append("two\n".getBytes(UTF_8));
      assertThat(spool.onFile()).isTrue();
      assertThat(takeAll(spool)).isEqualTo("one\ntwo\n");
      spool.append("3\n".getBytes(UTF_8));
      assertThat(spool.onFile()).isFalse();
      assertThat(takeAll(spool)).isEqualTo("3\n");
    }
  }

  @Test
  void closing_leaves_no_file_behind() throws Exception {
    AnswerSpool spool = new AnswerSpool(1, directory);
    spool.append("patient data".getBytes(UTF_8));
    spool.close();
    spool.append("late".getBytes(UTF_8));
    assertThat(spool.isEmpty()).isTrue();
    try (Stream<Path> left = Files.list(directory)) {
      assertThat(left).isEmpty();
    }
  }
}
