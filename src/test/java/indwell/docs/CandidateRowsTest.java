package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.candidate.Assessment;
import indwell.domain.candidate.CandidateQuestion;
import indwell.domain.candidate.CandidateReview;
import indwell.domain.candidate.CandidateSentence;
import indwell.domain.candidate.CriterionResult;
import indwell.domain.candidate.DateOfEvent;
import indwell.domain.candidate.DateRange;
import indwell.domain.candidate.Finding.Reading;
import indwell.domain.candidate.Organism;
import indwell.domain.candidate.Outcome.Added;
import indwell.domain.candidate.Outcome.Met;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.candidate.PostoperativeRemoval;
import indwell.domain.candidate.Temperature;
import indwell.domain.candidate.UsableCulture;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;
import java.io.IOException;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs every row of the rules of candidates in docs/rules.md: the page is the test. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CandidateRowsTest {
  private static final FacilityCalendar UTC = new FacilityCalendar(ZoneOffset.UTC);
  private static final Set<String> RULES =
      EnumSet.range(RuleId.WINDOW_1, RuleId.PROC_1).stream()
          .map(RuleId::id)
          .collect(Collectors.toSet());

  static Stream<RulePage.Row> rows() throws IOException {
    return RulePage.rows().stream().filter(row -> RULES.contains(row.rule()));
  }

  @ParameterizedTest
  @MethodSource("rows")
  void the_answer_is_as_the_page_says(RulePage.Row row) {
    assertThat(answer(row)).isEqualTo(row.cells().subList(expectedFrom(row), row.cells().size()));
  }

  @Test
  void every_rule_of_candidates_has_rows() throws IOException {
    assertThat(rows().map(RulePage.Row::rule).collect(Collectors.toSet())).isEqualTo(RULES);
  }

  /** Two rules are asked about something beside what is given. */
  private static int expectedFrom(RulePage.Row row) {
    return List.of("SYMPTOM-1", "PROC-1").contains(row.rule()) ? 2 : 1;
  }

  private static List<String> answer(RulePage.Row row) {
    Map<Boolean, List<String>> clauses =
        Arrays.stream(row.cells().get(0).split("; ", -1))
            .collect(Collectors.partitioningBy(CandidateSentence::reads));
    CandidateQuestion question = CandidateSentence.of(clauses.get(true));
    Timeline timeline = timeline(clauses.get(false));
    return switch (row.rule()) {
      case "CULTURE-1" -> usable(question);
      case "FEVER-1" -> temperature(question);
      case "PROC-1" -> removal(timeline, question, row.cells().get(1));
      default -> assessed(row, last(CandidateReview.of(timeline, UTC, question)));
    };
  }

  private static Timeline timeline(List<String> clauses) {
    List<BedsideEvent> events =
        clauses.isEmpty() ? List.of() : BedsideSentence.events(String.join("; ", clauses));
    return Timeline.of(events);
  }

  private static List<String> assessed(RulePage.Row row, Assessment said) {
    return switch (row.rule()) {
      case "WINDOW-1" -> List.of(said.window().words());
      case "SYMPTOM-1" -> List.of(symptom(said, row.cells().get(1)));
      case "EVENT-1" ->
          List.of(date(said, DateOfEvent::firstElement), date(said, DateOfEvent::date));
      case "POA-1" -> List.of(met(said).orElseThrow().onset().code());
      case "REPEAT-1" -> repeat(met(said).orElseThrow());
      case "SECOND-1" -> second((NewCandidate) said.outcome());
      case "DEVICE-1" -> device((NewCandidate) said.outcome());
      default -> criterion(said, row.rule());
    };
  }

  private static List<String> usable(CandidateQuestion question) {
    String names =
        UsableCulture.pathogens(question.cultures().get(0)).value().stream()
            .map(Organism::name)
            .collect(Collectors.joining(", "));
    return List.of(names.isEmpty() ? "none" : names);
  }

  private static List<String> temperature(CandidateQuestion question) {
    Temperature read = ((Reading) question.findings().get(0)).temperature();
    return List.of(word(read.isFever()), word(read.isHypothermia()));
  }

  private static List<String> removal(
      Timeline timeline, CandidateQuestion question, String askedOn) {
    PostoperativeRemoval removal =
        PostoperativeRemoval.of(
            timeline,
            UTC,
            question.surgeryEndedAt().orElseThrow(),
            CandidateSentence.date(askedOn));
    return List.of(
        removal.result().code(),
        removal.day().isPresent() ? Integer.toString(removal.day().getAsInt()) : "none");
  }

  private static String symptom(Assessment said, String code) {
    return said.criteria().get(0).elements().stream()
        .filter(element -> element.kind().code().equals(code))
        .findFirst()
        .orElseThrow()
        .on()
        .map(LocalDate::toString)
        .orElse("none");
  }

  private static List<String> criterion(Assessment said, String rule) {
    CriterionResult result =
        said.criteria().stream()
            .filter(one -> one.rule().id().equals(rule))
            .findFirst()
            .orElseThrow();
    return List.of(
        word(result.met()),
        result.dateOfEvent().map(date -> date.date().toString()).orElse("none"));
  }

  private static List<String> repeat(Met met) {
    DateRange timeframe =
        met instanceof Added added ? added.timeframe() : ((NewCandidate) met).timeframe();
    return List.of(timeframe.words(), met instanceof Added ? "added" : "new");
  }

  private static List<String> second(NewCandidate candidate) {
    String blood =
        candidate.secondaryBlood().stream()
            .map(one -> one.collectedOn().toString())
            .collect(Collectors.joining(" "));
    return List.of(
        candidate.attributionPeriod().words(),
        Long.toString(candidate.attributionPeriod().days()),
        blood.isEmpty() ? "none" : blood);
  }

  private static List<String> device(NewCandidate candidate) {
    return List.of(
        candidate.criterion().code(),
        word(candidate.catheterAssociated()),
        candidate.ward().map(Ward::code).orElse("none"));
  }

  private static String date(Assessment said, Function<DateOfEvent, LocalDate> which) {
    return met(said).map(Met::dateOfEvent).map(which).map(LocalDate::toString).orElse("none");
  }

  private static Optional<Met> met(Assessment said) {
    return said.outcome() instanceof Met met ? Optional.of(met) : Optional.empty();
  }

  private static Assessment last(List<Assessment> all) {
    return all.get(all.size() - 1);
  }

  private static String word(boolean yes) {
    return yes ? "yes" : "no";
  }
}
