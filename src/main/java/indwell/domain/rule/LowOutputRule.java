package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Drainage;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.Timeline;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Urine output is stage 1 or more, read as the settings say, at the end of the last measured
 * interval; from the end of the first of the unbroken run of such intervals, until an interval
 * without such a stage (or without any result) or the end of the catheter. No weight, no flag.
 */
final class LowOutputRule implements FlagRule {
  private static final Duration LONGEST_WINDOW = Duration.ofHours(24);

  /**
   * The result at the end of one interval.
   *
   * @param weight the weight used; empty when none was known
   */
  private record Result(
      UrineOutput interval, Optional<BodyWeight> weight, Optional<UrineStage> stage) {
    private boolean low() {
      return stage.isPresent() && stage.get().stage() >= 1;
    }

    private Instant at() {
      return interval.at();
    }
  }

  @Override
  public RuleId id() {
    return RuleId.FLAG_LOW_OUTPUT;
  }

  @Override
  public FlagCode code() {
    return FlagCode.LOW_URINE_OUTPUT;
  }

  /**
   * An unbroken run of intervals with a stage.
   *
   * @param lifted the end of the interval that ended it; empty while it lasts
   */
  private record Run(Result first, Result last, Optional<Instant> lifted) {}

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    return spans(catheter, bedside.timeline(), runs(bedside));
  }

  /** Urine belongs to the patient: it is staged once for all catheters. */
  @Override
  public List<List<FlagSpan>> spans(Bedside bedside) {
    Timeline timeline = bedside.timeline();
    List<Run> runs = timeline.placements().isEmpty() ? List.of() : runs(bedside);
    return timeline.placements().stream().map(one -> spans(one, timeline, runs)).toList();
  }

  private List<FlagSpan> spans(Placement catheter, Timeline timeline, List<Run> runs) {
    if (catheter.placing().drainage() == Drainage.NONE) {
      return List.of();
    }
    return runs.stream().flatMap(run -> span(catheter, timeline, run).stream()).toList();
  }

  private static List<Run> runs(Bedside bedside) {
    List<Result> results = results(bedside);
    List<Run> runs = new ArrayList<>();
    for (int first = 0, next = 1; first < results.size(); first = next, next++) {
      if (results.get(first).low()) {
        while (next < results.size() && results.get(next).low()) {
          next++;
        }
        Optional<Instant> lifted =
            next < results.size() ? Optional.of(results.get(next).at()) : Optional.empty();
        runs.add(new Run(results.get(first), results.get(next - 1), lifted));
      }
    }
    return runs;
  }

  /** One result for each instant at which an interval ended, ascending. */
  private static List<Result> results(Bedside bedside) {
    List<Result> results = new ArrayList<>();
    List<UrineOutput> urine = bedside.timeline().urine();
    for (int i = 0; i < urine.size(); i++) {
      boolean lastOfInstant =
          i + 1 == urine.size() || !urine.get(i + 1).at().equals(urine.get(i).at());
      if (lastOfInstant) {
        results.add(result(bedside, urine.get(i)));
      }
    }
    return results;
  }

  private static Result result(Bedside bedside, UrineOutput interval) {
    Timeline timeline = bedside.timeline();
    Optional<BodyWeight> weight = timeline.weightAt(interval.at());
    return new Result(
        interval, weight, weight.flatMap(one -> stage(bedside, interval.at(), one.kg())));
  }

  private static Optional<UrineStage> stage(Bedside bedside, Instant end, BigDecimal kg) {
    // No reading looks further back, and a patient may have been measured for years.
    List<UrineOutput> urine = bedside.timeline().urineEnding(end.minus(LONGEST_WINDOW), end);
    return switch (bedside.settings().urineReading()) {
      case MEAN -> new MeanUrineOutput(urine, end, kg).stage();
      case CONSECUTIVE -> new ConsecutiveUrineOutput(urine, end, kg).stage();
      case NEONATAL -> new NeonatalUrineOutput(urine, end, kg).stage();
    };
  }

  private Optional<FlagSpan> span(Placement catheter, Timeline timeline, Run run) {
    Instant begun = run.first().at();
    Instant since = begun.isAfter(catheter.start()) ? begun : catheter.start();
    Optional<Instant> until =
        Stream.concat(run.lifted().stream(), catheter.end().map(PlacementEnd::at).stream())
            .min(Comparator.naturalOrder());
    if (until.isPresent() && !since.isBefore(until.get())) {
      return Optional.empty();
    }
    UrineStage stage = run.last().stage().orElseThrow();
    List<BedsideEvent> facts = facts(timeline, run.last(), stage);
    Trace trace = new Trace(id(), stage.reading().source(), stage.sentence(), facts);
    return Optional.of(new FlagSpan(code(), catheter, since, false, until, trace));
  }

  /** The last interval and the weight, then what else was measured in the window. */
  private static List<BedsideEvent> facts(Timeline timeline, Result last, UrineStage stage) {
    Instant windowStart = last.at().minus(Duration.ofHours(stage.windowHours()));
    return Stream.<BedsideEvent>concat(
            Stream.of(last.interval(), last.weight().orElseThrow()),
            timeline.urineEnding(windowStart, last.at()).stream())
        .distinct()
        .toList();
  }
}
