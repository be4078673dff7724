package indwell.domain.candidate;

import indwell.domain.candidate.Outcome.Added;
import indwell.domain.candidate.Outcome.NewCandidate;
import indwell.domain.candidate.Outcome.NoCriterion;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.timeline.CatheterDay;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** From the criteria of one culture to what follows from them, step by step. */
final class Conclusion {
  private final Judged judged;
  private final List<Trace> traces = new ArrayList<>();

  private Conclusion(Judged judged) {
    this.judged = judged;
    traces.add(judged.workup().window().trace());
    traces.add(judged.workup().pathogens().trace());
  }

  /** Concludes; a new candidate goes into the book, so that its timeframe is looked at later. */
  static Assessment of(Judged judged, EventBook book) {
    Conclusion conclusion = new Conclusion(judged);
    Outcome outcome =
        judged.chosen().map(chosen -> conclusion.met(chosen, book)).orElseGet(conclusion::notMet);
    return new Assessment(
        judged.workup().culture(),
        judged.workup().window().value(),
        judged.criteria(),
        outcome,
        conclusion.traces);
  }

  private Outcome notMet() {
    for (CriterionResult result : judged.criteria()) {
      traces.add(
          new Trace(
              result.rule(), "Criterion " + result.criterion().code() + " is not met.", List.of()));
    }
    return new NoCriterion();
  }

  private Outcome met(CriterionResult chosen, EventBook book) {
    DateOfEvent date = chosen.dateOfEvent().orElseThrow();
    traces.add(criterion(chosen));
    traces.add(date.trace());
    Onset onset = onset(date.date());
    Optional<CatheterDay> day = judged.workup().day(date.date());
    return book.holding(date.date(), judged.encounter())
        .<Outcome>map(event -> added(chosen.criterion(), date, onset, day, event))
        .orElseGet(() -> opened(chosen.criterion(), date, onset, day, book));
  }

  private static Trace criterion(CriterionResult chosen) {
    List<String> met =
        chosen.elements().stream().filter(Element::met).map(one -> one.kind().words()).toList();
    return new Trace(
        chosen.rule(),
        "Candidate by criterion "
            + chosen.criterion().code()
            + ", with "
            + String.join(", ", met)
            + ".",
        List.of());
  }

  private Onset onset(LocalDate date) {
    Ruled<Onset> onset =
        judged
            .workup()
            .stay()
            .map(stay -> Onset.of(date, stay.admission(), stay.admittedBy()))
            .orElseGet(Onset::outside);
    traces.add(onset.trace());
    return onset.value();
  }

  private Optional<HospitalDay> hospitalDay(DateOfEvent date) {
    return judged.workup().stay().map(stay -> HospitalDay.of(date.date(), stay.admission()));
  }

  private Outcome added(
      Criterion criterion,
      DateOfEvent date,
      Onset onset,
      Optional<CatheterDay> day,
      EarlierEvent event) {
    DateRange timeframe = RepeatTimeframe.from(event.dateOfEvent());
    traces.add(
        repeat(
            "No new event: "
                + date.date()
                + " lies in the repeat timeframe "
                + timeframe.words()
                + " of the event of "
                + event.dateOfEvent()
                + ", whose date, device association and ward stay. What it does not name yet is"
                + " added."));
    return new Added(
        criterion,
        date,
        onset,
        hospitalDay(date),
        day,
        event,
        timeframe,
        event.without(judged.workup().pathogens().value()));
  }

  private Outcome opened(
      Criterion criterion,
      DateOfEvent date,
      Onset onset,
      Optional<CatheterDay> day,
      EventBook book) {
    List<Organism> organisms = judged.workup().pathogens().value();
    List<String> names = organisms.stream().map(Organism::name).toList();
    book.add(judged.encounter(), new EarlierEvent(date.date(), names));
    DateRange timeframe = RepeatTimeframe.from(date.date());
    traces.add(
        repeat(
            "A new event: no earlier one of the stay has a timeframe that holds "
                + date.date()
                + ". Its own is "
                + timeframe.words()
                + "."));
    Ruled<DateRange> period = AttributionPeriod.of(judged.workup().window().value(), timeframe);
    traces.add(period.trace());
    Ruled<Boolean> device = DeviceAssociation.of(day);
    traces.add(device.trace());
    return new NewCandidate(
        criterion,
        date,
        onset,
        hospitalDay(date),
        day,
        timeframe,
        period.value(),
        organisms,
        AttributionPeriod.blood(period.value(), organisms, judged.workup().blood()),
        device.value(),
        ward(date.date(), onset, day));
  }

  private static Trace repeat(String sentence) {
    return new Trace(RuleId.REPEAT_1, sentence, List.of());
  }

  /** The day's own reasons follow; that of the ward only where there is an attribution. */
  private Optional<Ward> ward(LocalDate date, Onset onset, Optional<CatheterDay> day) {
    boolean attributed = onset == Onset.HEALTHCARE_ASSOCIATED;
    judged.workup().stay().stream()
        .flatMap(stay -> stay.traces(date).stream())
        .filter(trace -> attributed || trace.rule() != RuleId.ATT_1)
        .forEach(traces::add);
    return day.filter(any -> attributed).flatMap(CatheterDay::ward);
  }
}
