package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.rule.RuleId;
import java.io.IOException;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs every row of the surveillance rules in docs/rules.md: the page is the test. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SurveillanceRowsTest {
  private static final Set<String> RULES =
      EnumSet.range(RuleId.DUR_1, RuleId.CHART_G).stream()
          .map(RuleId::id)
          .collect(Collectors.toSet());

  static Stream<RulePage.Row> rows() throws IOException {
    return RulePage.rows().stream().filter(row -> RULES.contains(row.rule()));
  }

  @ParameterizedTest
  @MethodSource("rows")
  void the_figures_are_as_the_page_says(RulePage.Row row) {
    assertThat(SurveillanceSentence.answer(row))
        .isEqualTo(row.cells().subList(1, row.cells().size()));
  }

  @Test
  void every_surveillance_rule_has_rows() throws IOException {
    assertThat(rows().map(RulePage.Row::rule).collect(Collectors.toSet())).isEqualTo(RULES);
  }
}
