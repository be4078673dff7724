package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.RuleId;
import indwell.intake.EventTree;
import indwell.usecase.Facility;
import indwell.usecase.UnitPractice;
import indwell.usecase.UnitPractice.Practice;
import indwell.usecase.UnmappedIntake;
import java.io.IOException;
import java.time.Instant;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs every row of the rules of practice in docs/rules.md: the page is the test. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PracticeRowsTest {
  private static final Set<String> RULES =
      EnumSet.range(RuleId.STEP_1, RuleId.HOURS_1).stream()
          .map(RuleId::id)
          .collect(Collectors.toSet());
  private static final Instant LATER = Instant.parse("2024-12-01T00:00:00Z");
  private static final Facility UTC = PlainFacility.in(ZoneOffset.UTC);

  static Stream<RulePage.Row> rows() throws IOException {
    return RulePage.rows().stream().filter(row -> RULES.contains(row.rule()));
  }

  @ParameterizedTest
  @MethodSource("rows")
  void the_measures_are_as_the_page_says(RulePage.Row row) throws Exception {
    List<String> cells = row.cells();
    boolean hours = row.rule().equals(RuleId.HOURS_1.id());
    String[] place = cells.get(hours ? 2 : 1).split(" ");
    Practice practice = practice(cells.get(0), place[0], YearMonth.parse("2024-" + place[1]));

    List<String> answer =
        switch (row.rule()) {
          case "STEP-1" ->
              List.of(
                  "" + practice.steps().insertions(),
                  "" + practice.steps().checked(),
                  "" + practice.steps().complete());
          case "REVIEW-1" -> List.of("" + practice.reviews().due(), "" + practice.reviews().met());
          case "DWELL-1" -> List.of(words(practice.dwell().days()));
          default ->
              List.of(
                  practice
                      .overdue()
                      .hours(FlagCode.ofCode(cells.get(1)).orElseThrow(), 1)
                      .toPlainString());
        };
    assertThat(answer).isEqualTo(cells.subList(hours ? 3 : 2, cells.size()));
  }

  @Test
  void every_rule_of_practice_has_rows() throws IOException {
    assertThat(rows().map(RulePage.Row::rule).collect(Collectors.toSet())).isEqualTo(RULES);
  }

  private static String words(List<Integer> days) {
    return days.isEmpty()
        ? "none"
        : days.stream().map(String::valueOf).collect(Collectors.joining(" "));
  }

  private static Practice practice(String given, String ward, YearMonth month) throws Exception {
    MemoryStore store = new MemoryStore();
    List<String> bodies = new ArrayList<>();
    for (BedsideEvent event : BedsideSentence.events(given)) {
      bodies.add(new ObjectMapper().writeValueAsString(EventTree.of(event, 1)));
    }
    UnmappedIntake.take(store, bodies);
    return new UnitPractice(store, UTC).of(Optional.of(new Ward(ward)), month, LATER);
  }
}
