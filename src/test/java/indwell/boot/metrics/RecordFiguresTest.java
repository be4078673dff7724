package indwell.boot.metrics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Labels of wards are bounded, however many wards there are. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RecordFiguresTest {

  @Test
  void wards_with_the_most_flags_have_a_label_and_no_more_than_so_many() {
    Map<String, Long> flags = new TreeMap<>();
    IntStream.rangeClosed(1, RecordFigures.MOST_WARDS + 50)
        .forEach(i -> flags.put("W-" + i, (long) i));

    List<String> named = RecordFigures.named(flags);

    assertThat(named).hasSize(RecordFigures.MOST_WARDS).startsWith("W-150", "W-149");
    assertThat(named).doesNotContain("W-50").contains("W-51");
  }
}
