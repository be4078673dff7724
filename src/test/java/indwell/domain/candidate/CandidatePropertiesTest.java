package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.candidate.Outcome.Met;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CatheterDay;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalInt;
import java.util.Random;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.statistics.Statistics;

/** What holds for every patient, on any dates of any year, in a zone that changes its clocks. */
class CandidatePropertiesTest {
  private static final String ZONE = "Europe/Berlin";

  /** So that the draws are about something. */
  private static final List<String> EACH_OCCURS =
      List.of(
          "none",
          "SUTI-1a hai eligible W1",
          "SUTI-1b hai W1",
          "SUTI-1b poa",
          "SUTI-1b outside",
          "ABUTI hai eligible W1",
          "ABUTI hai W1",
          "ABUTI poa",
          "ABUTI outside");

  /** Days 0 to 5,499 from 2015-01-01: every month, four leap years, thirty changes of the clock. */
  @Property(seed = "20261127", tries = 600, edgeCases = EdgeCasesMode.NONE)
  void two_readings_of_the_rules_agree(
      @ForAll("cases") CandidateOracle given, @ForAll @IntRange(max = 5499) int start) {
    LocalDate admission = LocalDate.of(2015, 1, 1).plusDays(start);

    Statistics.label("answers")
        .collect(given.answer().replaceAll(" -?\\d+", ""))
        .coverage(
            answers -> {
              for (String one : EACH_OCCURS) {
                answers.check(one).count(count -> count >= 3);
              }
            });
    assertThat(line(assess(given, admission, 0), admission)).isEqualTo(given.answer());
  }

  @Property(seed = "20261127", tries = 300, edgeCases = EdgeCasesMode.NONE)
  void a_candidate_keeps_within_its_bounds(
      @ForAll("cases") CandidateOracle given, @ForAll @IntRange(max = 5499) int start) {
    LocalDate admission = LocalDate.of(2015, 1, 1).plusDays(start);
    Assessment said = assess(given, admission, 0);
    if (!(said.outcome() instanceof NewCandidate found)) {
      return;
    }
    LocalDate culture = said.culture().collectedOn();

    assertThat(found.dateOfEvent().firstElement()).isBetween(culture.minusDays(3), culture);
    assertThat(said.window().holds(culture)).isTrue();
    assertThat(said.window().days()).isBetween(4L, 7L);
    assertThat(found.timeframe().days()).isEqualTo(14);
    assertThat(found.attributionPeriod().days()).isBetween(14L, 17L);
    assertThat(found.catheterAssociated())
        .isEqualTo(
            found.criterion() == Criterion.SUTI_1A
                || (found.criterion() == Criterion.ABUTI
                    && found.day().filter(CatheterDay::eligible).isPresent()));
    assertThat(found.ward().isPresent()).isEqualTo(found.onset() == Onset.HEALTHCARE_ASSOCIATED);
  }

  @Property(seed = "20261127", tries = 200, edgeCases = EdgeCasesMode.NONE)
  void the_order_in_which_findings_are_told_changes_nothing(
      @ForAll("cases") CandidateOracle given, @ForAll int shuffle) {
    LocalDate admission = LocalDate.of(2024, 2, 20);

    assertThat(assess(given, admission, shuffle)).isEqualTo(assess(given, admission, 0));
  }

  @Provide
  Arbitrary<CandidateOracle> cases() {
    Arbitrary<OptionalInt> discharge =
        Arbitraries.integers()
            .between(4, 30)
            .map(OptionalInt::of)
            .injectNull(0.5)
            .map(day -> day == null ? OptionalInt.empty() : day);
    Arbitrary<Integer> in = Arbitraries.integers().between(0, 6);
    Arbitrary<Integer> stays = Arbitraries.integers().between(0, 14);
    Arbitrary<Integer> age = Arbitraries.of(40, 65, 66, 80);
    Arbitrary<Integer> culture = Arbitraries.integers().between(-4, 24);
    return Combinators.combine(discharge, in, stays, age, culture, near(), near(), near())
        .as(
            (left, first, days, years, collected, fevers, dysurias, others) ->
                new CandidateOracle(
                    left,
                    Math.min(first, left.orElse(first)),
                    first + days,
                    years,
                    collected,
                    around(collected, fevers),
                    around(collected, dysurias),
                    others.size() > 2 ? around(collected, others) : Set.of(),
                    around(collected, others)));
  }

  /** Offsets from the culture, in and around the window. */
  private static Arbitrary<Set<Integer>> near() {
    return Arbitraries.integers().between(-5, 5).set().ofMaxSize(3);
  }

  private static Set<Integer> around(int day, Set<Integer> offsets) {
    return Set.copyOf(offsets.stream().map(offset -> day + offset).toList());
  }

  private static Assessment assess(CandidateOracle given, LocalDate admission, int shuffle) {
    List<String> lines = new ArrayList<>();
    lines.add(admission + " 00:00 admitted W1");
    lines.add(admission.plusDays(given.in()) + " 10:00 inserted c1");
    lines.add(admission.plusDays(given.out()) + " 11:00 removed c1");
    given.discharge().ifPresent(day -> lines.add(admission.plusDays(day) + " 12:00 discharged"));
    TimelineSentence history = TimelineSentence.in(ZONE, String.join("\n", lines));
    List<String> clauses = new ArrayList<>();
    given
        .fevers()
        .forEach(day -> clauses.add("temperature %s 38.1 Cel".formatted(admission.plusDays(day))));
    given.dysurias().forEach(day -> clauses.add("dysuria " + admission.plusDays(day)));
    given.pains().forEach(day -> clauses.add("costovertebral-pain " + admission.plusDays(day)));
    given
        .bloods()
        .forEach(
            day ->
                clauses.add(
                    "blood %s Escherichia coli bacterium".formatted(admission.plusDays(day))));
    Collections.shuffle(clauses, new Random(shuffle));
    clauses.add("culture " + admission.plusDays(given.culture()));
    clauses.add("aged " + given.age());
    return CandidateReview.of(history.timeline(), history.calendar(), CandidateSentence.of(clauses))
        .get(0);
  }

  private static String line(Assessment said, LocalDate admission) {
    if (!(said.outcome() instanceof Met met)) {
      return "none";
    }
    String onset =
        switch (met.onset()) {
          case PRESENT_ON_ADMISSION -> " poa";
          case HEALTHCARE_ASSOCIATED -> " hai";
          case OUTSIDE_STAY -> " outside";
        };
    NewCandidate found = (NewCandidate) met;
    return met.criterion().code()
        + " "
        + ChronoUnit.DAYS.between(admission, met.dateOfEvent().date())
        + onset
        + (found.catheterAssociated() ? " eligible" : "")
        + found.ward().map(Ward::code).map(code -> " " + code).orElse("");
  }
}
