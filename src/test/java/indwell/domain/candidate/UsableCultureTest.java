package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.OptionalInt;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Why a culture can be used or not (rule CULTURE-1); which can, docs/rules.md has in rows.
 *
 * <p>Source: NHSN chapter 7, Table 1, rule U9; CDC, NHSN FAQs: UTI, rules U7 and U8.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UsableCultureTest {

  @ParameterizedTest(name = "{0}: {1}")
  @CsvSource(
      delimiter = '|',
      value = {
        "E. coli bacterium 100000 | usable: E. coli (bacterium, 100000 CFU/mL).",
        "E. coli bacterium >=100000 + C. albicans candida"
            + " | usable: E. coli (bacterium, at least 100000 CFU/mL), C. albicans (candida, no"
            + " count).",
        "without growth | not usable: nothing grew.",
        "E. coli bacterium 100000 + Mixed flora mixed-flora"
            + " | not usable: mixed flora stands for more than two organisms.",
        "A bacterium 100000 + B bacterium + C yeast"
            + " | not usable: it has 3 organisms, and at most 2 may be there.",
        "C. albicans candida 100000 + D mould 75000-100000"
            + " | not usable: no bacterium is among C. albicans (candida, 100000 CFU/mL), D (mould,"
            + " 75000 to 100000 CFU/mL).",
        "E. coli bacterium 99999 + C. albicans candida 1-100000"
            + " | not usable: no bacterium has 100000 CFU/mL or more in E. coli (bacterium, 99999"
            + " CFU/mL), C. albicans (candida, 1 to 100000 CFU/mL).",
        "E. coli bacterium 75000-100000"
            + " | not usable: the laboratory has not said that it is 100000 CFU/mL or more of a"
            + " bacterium in E. coli (bacterium, 75000 to 100000 CFU/mL).",
        "E. coli bacterium 75000-99999"
            + " | not usable: no bacterium has 100000 CFU/mL or more in E. coli (bacterium, 75000 to"
            + " 99999 CFU/mL).",
        "E. coli bacterium >=99999"
            + " | not usable: the laboratory has not said that it is 100000 CFU/mL or more of a"
            + " bacterium in E. coli (bacterium, at least 99999 CFU/mL).",
        "E. coli bacterium"
            + " | not usable: no bacterium has 100000 CFU/mL or more in E. coli (bacterium, no"
            + " count)."
      })
  void says_why(String growth, String why) {
    UrineCulture culture = CandidateSentence.of("culture 06-05 " + growth).cultures().get(0);

    assertThat(UsableCulture.pathogens(culture).trace().finding())
        .isEqualTo("The culture of 2024-06-05 is " + why);
  }

  @ParameterizedTest(name = "from {0} to {1}: enough {2}, uncertain {3}")
  @CsvSource({
    "0, 0, false, false, 0 CFU/mL",
    "0, 99999, false, false, 0 to 99999 CFU/mL",
    "0, 100000, false, true, 0 to 100000 CFU/mL",
    "99999, 100001, false, true, 99999 to 100001 CFU/mL",
    "100000, 100000, true, false, 100000 CFU/mL",
    "100000, , true, false, at least 100000 CFU/mL",
    "99999, , false, true, at least 99999 CFU/mL"
  })
  void a_count_is_enough_not_enough_or_neither(
      int from, Integer to, boolean enough, boolean uncertain, String words) {
    ColonyCount count =
        new ColonyCount(from, to == null ? OptionalInt.empty() : OptionalInt.of(to));

    assertThat(count.isEnough()).isEqualTo(enough);
    assertThat(count.isUncertain()).isEqualTo(uncertain);
    assertThat(count.words()).isEqualTo(words);
  }

  @Test
  void a_count_is_not_negative_and_runs_forwards() {
    assertThatThrownBy(() -> ColonyCount.of(-1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new ColonyCount(2, OptionalInt.of(1)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @ParameterizedTest(name = "{0} as {1}: {2}")
  @CsvSource({
    "Escherichia coli, BACTERIUM, false",
    "Candida albicans, BACTERIUM, true",
    "candida glabrata, CANDIDA, false",
    "Yeast not specified, BACTERIUM, true",
    "Cryptococcus neoformans, BACTERIUM, true",
    "Cryptococcus neoformans, YEAST, false",
    "Mixed flora, BACTERIUM, true",
    "MIXED urogenital  FLORA, MOULD, true",
    "mixed skin flora, MIXED_FLORA, false",
    "Mixed growth, BACTERIUM, false",
    "Flora, BACTERIUM, false"
  })
  void a_name_that_tells_another_kind(String name, OrganismKind kind, boolean contradicts) {
    assertThat(new Organism(name, kind).contradictsItself()).isEqualTo(contradicts);
  }

  @ParameterizedTest(name = "{0} and {1}: {2}")
  @CsvSource({
    "Escherichia coli, ESCHERICHIA   coli, true",
    "Escherichia coli, Escherichia col, false",
    "Escherichia coli, E. coli, false",
    "Escherichia coli, coli Escherichia, false"
  })
  void names_spelt_alike_are_one_organism(String one, String other, boolean alike) {
    assertThat(new Organism(one, OrganismKind.BACTERIUM).isNamed(other)).isEqualTo(alike);
  }
}
