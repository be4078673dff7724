package indwell.domain.candidate;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.PlacementEnd.How;
import indwell.domain.timeline.Timeline;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Whether the catheter that was in place at the end of an operation was removed on postoperative
 * day 1 or 2, the date of the operation's end being day 0. An exchange is no removal.
 *
 * <p>Rule PROC-1. Source: CMS178 versions 4 to 6 (published; the measure is retired). Who belongs
 * to the measure (age, kind of operation, length of stay, reasons to leave the catheter) is not
 * looked at: a person decides.
 *
 * @param removedOn the local date; empty while it is in place, or where none was
 * @param day the postoperative day of that date
 */
public record PostoperativeRemoval(
    Result result, Optional<LocalDate> removedOn, OptionalInt day, Trace trace) {
  private static final int FIRST_DAY = 1;
  private static final int LAST_DAY = 2;

  /** What the measure says. */
  public enum Result {
    PASS("pass"),
    FAIL("fail"),
    /** In place, and day 2 is not over. */
    PENDING("pending"),
    /** No catheter after the operation, or none whose removal is known. */
    NOT_MEASURED("not-measured");

    private final String code;

    Result(String code) {
      this.code = code;
    }

    /** The word as answers carry it. */
    public String code() {
      return code;
    }
  }

  /**
   * What became of it.
   *
   * @param surgeryEnd a catheter in place at this instant is looked at
   * @param today the facility's date
   */
  public static PostoperativeRemoval of(
      Timeline timeline, FacilityCalendar calendar, Instant surgeryEnd, LocalDate today) {
    List<Placement> inPlace = timeline.countedAt(surgeryEnd);
    if (inPlace.isEmpty()) {
      return without(Result.NOT_MEASURED, "No catheter was in place at the end.", List.of());
    }
    LocalDate surgery = calendar.dateOf(surgeryEnd);
    Optional<Instant> out = firstWithout(timeline, surgeryEnd);
    if (out.isEmpty()) {
      return still(inPlace, surgery, today);
    }
    LocalDate date = calendar.dateOf(out.get());
    int day = (int) ChronoUnit.DAYS.between(surgery, date);
    Optional<BedsideEvent> removal = removalAt(timeline, out.get());
    if (removal.isEmpty()) {
      return without(
          Result.NOT_MEASURED,
          "The patient left on " + date + ", and no removal before that is on record.",
          placedBy(inPlace));
    }
    Result result = resultOn(day);
    return new PostoperativeRemoval(
        result,
        Optional.of(date),
        OptionalInt.of(day),
        trace(
            "Removed on postoperative day " + day + ", " + date + ".", removal.stream().toList()));
  }

  private static Result resultOn(int day) {
    if (day < FIRST_DAY) {
      return Result.NOT_MEASURED;
    }
    return day <= LAST_DAY ? Result.PASS : Result.FAIL;
  }

  private static PostoperativeRemoval still(
      List<Placement> inPlace, LocalDate surgery, LocalDate today) {
    boolean over = today.isAfter(surgery.plusDays(LAST_DAY));
    return without(
        over ? Result.FAIL : Result.PENDING,
        over
            ? "Not removed by the end of postoperative day 2, " + surgery.plusDays(LAST_DAY) + "."
            : "In place, and postoperative day 2, " + surgery.plusDays(LAST_DAY) + ", is not over.",
        placedBy(inPlace));
  }

  private static PostoperativeRemoval without(
      Result result, String sentence, List<BedsideEvent> facts) {
    return new PostoperativeRemoval(
        result, Optional.empty(), OptionalInt.empty(), trace(sentence, facts));
  }

  private static Trace trace(String sentence, List<BedsideEvent> facts) {
    return new Trace(RuleId.PROC_1, sentence, facts);
  }

  private static List<BedsideEvent> placedBy(List<Placement> placements) {
    return placements.stream().map(Placement::placedBy).toList();
  }

  /** The first instant from then on at which no catheter that counts is in place. */
  private static Optional<Instant> firstWithout(Timeline timeline, Instant from) {
    Instant at = from;
    while (true) {
      Optional<Span> span = spanAt(timeline, at);
      if (span.isEmpty()) {
        return Optional.of(at);
      }
      if (span.get().end().isEmpty()) {
        return Optional.empty();
      }
      at = span.get().end().get();
    }
  }

  private static Optional<Span> spanAt(Timeline timeline, Instant at) {
    return timeline.placements().stream()
        .filter(one -> one.placing().countsForSurveillance())
        .flatMap(one -> one.timesInPlace().stream())
        .filter(span -> span.holds(at))
        .findFirst();
  }

  /** A removal, not a discharge with or without a word about the catheter. */
  private static Optional<BedsideEvent> removalAt(Timeline timeline, Instant at) {
    return timeline.placements().stream()
        .filter(one -> one.placing().countsForSurveillance())
        .flatMap(one -> one.end().stream())
        .filter(end -> end.at().equals(at) && end.how() == How.REMOVED)
        .map(PlacementEnd::by)
        .findFirst();
  }
}
