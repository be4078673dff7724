package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.docs.Markdown;
import indwell.domain.TimelineSentence;
import indwell.domain.event.EventKey;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Two events of one instant, a row of docs/timeline.md a pair, in both orders of their ids. Where
 * the row says "the last", the answers are those to the history in which the last stands alone; the
 * pair is one that disagrees, so alone the other one would have other answers.
 *
 * <p>Source: contract, section 4, "One instant, several events".
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class OneInstantPairsTest {

  /** A pair, and what the page says of it. */
  private record Pair(
      String name,
      String before,
      String one,
      String other,
      String later,
      String holds,
      String remarks) {

    /** With the one of the two that has the lesser id, the one with the greater id, or both. */
    TimelineSentence with(boolean first, boolean last, boolean turned) {
      List<String> lines = new ArrayList<>(List.of(before));
      if (first) {
        lines.add((turned ? other : one) + " id=m1");
      }
      if (last) {
        lines.add((turned ? one : other) + " id=m2");
      }
      lines.add(later.strip() + " id=later");
      return TimelineSentence.of(String.join("\n", lines));
    }

    /** Whether the other may come last too: kinds have an order, and so may a row. */
    boolean eitherMayBeLast() {
      return one.split(" ")[2].equals(other.split(" ")[2]) && !name.contains("then");
    }

    @Override
    public String toString() {
      return name;
    }
  }

  static Stream<Pair> pairs() {
    return situations().stream();
  }

  @Test
  void the_page_has_a_row_for_each_pair_and_no_other() {
    assertThat(situations())
        .extracting(Pair::name)
        .containsExactlyElementsOf(rows().stream().map(row -> row.get(0)).toList());
  }

  @ParameterizedTest
  @MethodSource("pairs")
  void what_holds_is_what_the_page_says(Pair pair) {
    check(pair, false);
    if (pair.eitherMayBeLast()) {
      check(pair, true);
    }
  }

  private static void check(Pair pair, boolean turned) {
    String both = answers(pair.with(true, true, turned));
    String first = answers(pair.with(true, false, turned));
    String last = answers(pair.with(false, true, turned));

    switch (pair.holds()) {
      case "the last" -> {
        assertThat(both).isEqualTo(last);
        assertThat(both).isNotEqualTo(first);
      }
      case "the first" -> {
        assertThat(both).isEqualTo(first);
        assertThat(both).isNotEqualTo(last);
      }
      case "the one of the stay that the patient is in" -> {
        assertThat(both).isEqualTo(turned ? last : first);
        assertThat(both).isNotEqualTo(turned ? first : last);
      }
      case "both" -> {
        assertThat(both).isNotEqualTo(first);
        assertThat(both).isNotEqualTo(last);
      }
      case "either" -> {
        assertThat(withoutIds(both)).isEqualTo(withoutIds(first));
        assertThat(withoutIds(both)).isEqualTo(withoutIds(last));
      }
      default -> throw new AssertionError("No such answer: " + pair.holds());
    }
  }

  @ParameterizedTest
  @MethodSource("pairs")
  void the_remarks_that_the_pair_alone_brings_are_those_of_the_page(Pair pair) {
    TreeSet<String> brought = remarks(pair.with(true, true, false));
    brought.removeAll(remarks(pair.with(true, false, false)));
    brought.removeAll(remarks(pair.with(false, true, false)));

    assertThat(String.join(" ", brought)).isEqualTo(pair.remarks());
  }

  private static TreeSet<String> remarks(TimelineSentence patient) {
    TreeSet<String> codes = new TreeSet<>();
    patient.timeline().remarks().forEach(remark -> codes.add(remark.code().code()));
    return codes;
  }

  /** Stays, catheters with what was put in, and the flags with what raised them. */
  private static String answers(TimelineSentence patient) {
    Timeline timeline = patient.timeline();
    List<String> lines = new ArrayList<>();
    timeline
        .stays()
        .forEach(
            stay ->
                lines.add(
                    stay.encounter().value()
                        + " "
                        + stay.span()
                        + " "
                        + stay.wards()
                        + " by "
                        + stay.endedBy().map(by -> by.key().eventId())));
    timeline.placements().forEach(placement -> lines.add(text(placement)));
    AllRules.spans(new Bedside(timeline, RuleSettings.DEFAULTS, patient.calendar()))
        .forEach(span -> lines.add(text(span)));
    return String.join("\n", lines);
  }

  private static String text(Placement placement) {
    return placement.placing()
        + " by "
        + placement.placedBy().key().eventId()
        + " "
        + placement.timesInPlace()
        + placement
            .end()
            .map(end -> " " + end.how() + " " + end.ward() + " by " + end.by().key().eventId())
            .orElse("");
  }

  private static String text(FlagSpan span) {
    return String.join(
        " ",
        span.code().code(),
        span.catheter().catheter().value(),
        span.timesInForce().toString(),
        span.trace().finding(),
        span.trace().facts().stream()
            .map(fact -> fact.key())
            .map(EventKey::eventId)
            .toList()
            .toString());
  }

  private static String withoutIds(String answers) {
    return answers.replaceAll("\\bm[12]\\b", "m");
  }

  private static List<List<String>> rows() {
    try {
      return Markdown.of("docs/timeline.md").rows().stream()
          .filter(row -> row.size() == 4 && row.get(2).matches("\\*\\*.*"))
          .toList();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static List<Pair> situations() {
    List<Pair> pairs = new ArrayList<>();
    for (String block : text("one-instant.txt").split("(?m)^== ")) {
      if (block.startsWith("#")) {
        continue;
      }
      String name = block.substring(0, block.indexOf('\n'));
      String[] parts = block.substring(name.length() + 1).split("\n?----\n", -1);
      String[] two = parts[1].split("\n");
      List<String> row =
          rows().stream()
              .filter(one -> one.get(0).equals(name))
              .findFirst()
              .orElseThrow(() -> new AssertionError("docs/timeline.md has no row " + name));
      String holds = row.get(2).replaceFirst("^\\*\\*(.*?)\\*\\*.*", "$1");
      pairs.add(
          new Pair(name, parts[0], two[0], two[1], parts[2], holds, row.get(3).replace("–", "")));
    }
    return pairs;
  }

  private static String text(String name) {
    try (InputStream in = OneInstantPairsTest.class.getResourceAsStream(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }
}
