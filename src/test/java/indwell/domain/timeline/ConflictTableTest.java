package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.TimelineSentence;
import indwell.domain.event.EventType;
import indwell.domain.timeline.Conflicts.OtherStay;
import indwell.domain.timeline.Conflicts.OtherStayAction;
import indwell.domain.timeline.Conflicts.OtherStayEvent;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * {@code conflicts.csv} is total, each of its cells has a situation in {@code conflict-cells.txt}
 * that uses the cell, and the whole answer to it is the one that stands there.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ConflictTableTest {
  private static final List<Situation> SITUATIONS = situations();

  private record Situation(String cell, String events, String answer) {}

  @Test
  void every_cell_has_a_situation_and_every_situation_a_cell() {
    assertThat(SITUATIONS)
        .extracting(Situation::cell)
        .containsExactlyInAnyOrderElementsOf(cellsOfTheFile());
  }

  @TestFactory
  Stream<DynamicTest> each_cell() {
    return SITUATIONS.stream().map(one -> DynamicTest.dynamicTest(one.cell(), () -> check(one)));
  }

  private static void check(Situation situation) {
    TimelineSentence patient = TimelineSentence.of(situation.events());
    Set<String> used = new TreeSet<>();
    Timeline timeline =
        new TimelineReader(CellsUsed.watched(Conflicts.OF_THE_FILE, used)).read(patient.events());

    assertThat(used).contains(situation.cell());
    assertThat(WholeTimeline.text(timeline, patient.calendar())).isEqualTo(situation.answer());
  }

  @Test
  void a_pair_without_a_row_is_no_table() {
    assertThatThrownBy(() -> otherStays("other-stay,open,admitted-elsewhere,end,IND-0210"))
        .hasMessage("No cell for ENDED and ADMITTED_ELSEWHERE");
  }

  @Test
  void a_pair_with_two_rows_is_no_table() {
    assertThatThrownBy(
            () ->
                otherStays(
                    "other-stay,open,admitted-elsewhere,end,",
                    "other-stay,open,admitted-elsewhere,nothing,"))
        .hasMessage("Two cells for OPEN and ADMITTED_ELSEWHERE");
  }

  @Test
  void a_word_that_is_none_is_no_table() {
    assertThatThrownBy(() -> otherStays("other-stay,shut,admitted-elsewhere,end,"))
        .hasMessage("Not a OtherStay: shut");
    assertThatThrownBy(() -> otherStays("other-stay,open,admitted-elsewhere,end,IND-9999"))
        .hasMessage("No such remark: IND-9999");
    assertThatThrownBy(() -> otherStays("other-stay,open,admitted-elsewhere,end"))
        .hasMessage("Not 5 columns: other-stay,open,admitted-elsewhere,end");
  }

  @Test
  void the_legend_explains_every_word_of_the_table() {
    String legend = file(true).collect(Collectors.joining("\n"));
    Set<String> words = new TreeSet<>();
    file(false)
        .skip(1)
        .forEach(row -> words.addAll(Arrays.asList(row.split(",", -1)).subList(0, 2)));
    words.remove("");
    words.removeIf(word -> word.matches("(new|open)-(here|nowhere|elsewhere)"));

    assertThat(words).allSatisfy(word -> assertThat(legend).contains(word));
  }

  @Test
  void movements_and_catheter_events_alone_are_settled_by_the_table() {
    assertThat(EventType.values())
        .as("a new type of event needs its rows in conflicts.csv, or a reason why it has none")
        .hasSize(12);
  }

  private static ConflictTable<OtherStay, OtherStayEvent, OtherStayAction> otherStays(
      String... rows) {
    return new ConflictFile(List.of(rows))
        .table("other-stay", OtherStay.class, OtherStayEvent.class, OtherStayAction.class);
  }

  private static List<String> cellsOfTheFile() {
    return file(false)
        .skip(1)
        .map(row -> String.join(" ", Arrays.asList(row.split(",", -1)).subList(0, 3)))
        .toList();
  }

  private static Stream<String> file(boolean legend) {
    return text("conflicts.csv").lines().filter(line -> line.startsWith("#") == legend);
  }

  private static List<Situation> situations() {
    List<Situation> all = new ArrayList<>();
    for (String block : text("conflict-cells.txt").split("(?m)^== ")) {
      if (!block.startsWith("#")) {
        String[] parts = block.split("\n----\n", -1);
        int newline = parts[0].indexOf('\n');
        all.add(
            new Situation(
                parts[0].substring(0, newline), parts[0].substring(newline + 1), parts[1].strip()));
      }
    }
    return all;
  }

  private static String text(String name) {
    try (InputStream in = ConflictTableTest.class.getResourceAsStream(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }
}
