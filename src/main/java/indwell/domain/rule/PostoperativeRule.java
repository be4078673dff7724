package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Indication;
import indwell.domain.rule.Indications.Known;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A catheter whose latest indication is perioperative is out within 24 hours (or another set time)
 * of the end of surgery, or of the insertion where no end of surgery is known or it came before;
 * overdue once more than that has passed.
 */
final class PostoperativeRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_POSTOPERATIVE;
  }

  @Override
  public FlagCode code() {
    return FlagCode.POSTOPERATIVE_REMOVAL_OVERDUE;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    Duration within = bedside.settings().postoperativeWithin();
    Instant from = clockStart(catheter);
    return Indications.runs(Indications.of(catheter), PostoperativeRule::perioperative).stream()
        .flatMap(run -> span(catheter, run, from.plus(within), finding(bedside, from)))
        .toList();
  }

  private static boolean perioperative(Known known) {
    return known.latest().code() == Indication.PERIOPERATIVE;
  }

  private static Instant clockStart(Placement catheter) {
    Instant inserted = catheter.start();
    Optional<Instant> surgery = catheter.placing().surgeryEndedAt();
    return surgery.filter(end -> end.isAfter(inserted)).orElse(inserted);
  }

  private static String finding(Bedside bedside, Instant from) {
    return "Perioperative catheter, still in more than "
        + Words.hours(bedside.settings().postoperativeWithin())
        + " after "
        + bedside.calendar().local(from)
        + ".";
  }

  private Stream<FlagSpan> span(Placement catheter, List<Known> run, Instant due, String finding) {
    Span holds = new Span(run.get(0).span().start(), run.get(run.size() - 1).span().end());
    if (holds.end().isPresent() && !due.isBefore(holds.end().get())) {
      return Stream.empty();
    }
    boolean saidLater = holds.start().isAfter(due);
    Instant since = saidLater ? holds.start() : due;
    Trace trace = new Trace(id(), finding, facts(catheter, run.get(run.size() - 1)));
    return Stream.of(new FlagSpan(code(), catheter, since, !saidLater, holds.end(), trace));
  }

  /** What states the indication, and what started the clock. */
  private static List<BedsideEvent> facts(Placement catheter, Known latest) {
    return Stream.of(latest.statedBy(), catheter.placedBy()).distinct().toList();
  }
}
