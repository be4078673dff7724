package indwell.domain.rule;

import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A flag and the time in which it is in force.
 *
 * @param code what it says
 * @param catheter what it is about
 * @param since the instant that the flag dates itself from, its {@code period.start}
 * @param onlyAfter true where the rule says "more than": in force after {@code since}, not at it
 * @param until in force until then, exclusive; empty while nothing has lifted it
 * @param trace why
 * @param decided when the settings held that it was found by; at other times it says nothing
 */
public record FlagSpan(
    FlagCode code,
    Placement catheter,
    Instant since,
    boolean onlyAfter,
    Optional<Instant> until,
    Trace trace,
    Span decided) {

  /** A flag by settings that hold at all times. */
  public FlagSpan(
      FlagCode code,
      Placement catheter,
      Instant since,
      boolean onlyAfter,
      Optional<Instant> until,
      Trace trace) {
    this(code, catheter, since, onlyAfter, until, trace, Span.since(Instant.MIN));
  }

  /** The same flag, found by settings that hold in that time only. */
  public FlagSpan decidedIn(Span time) {
    return new FlagSpan(code, catheter, since, onlyAfter, until, trace, time);
  }

  /** Whether the rule holds at that instant, whether or not the catheter is in place then. */
  boolean holdsAt(Instant instant) {
    boolean begun = onlyAfter ? instant.isAfter(since) : !instant.isBefore(since);
    return decided.holds(instant) && begun && (until.isEmpty() || instant.isBefore(until.get()));
  }

  /** Whether it is in force: the rule holds and, where that is asked for, the catheter is in. */
  public boolean inForceAt(Instant instant) {
    boolean aboutLeaving = code == FlagCode.REMOVAL_NOT_RECORDED;
    return holdsAt(instant) && (aboutLeaving || catheter.inPlaceAt(instant));
  }

  /**
   * The times in which it is in force, ascending: while the rule holds by settings that hold and,
   * where that is asked for, the catheter is in. None when the catheter rested all the while.
   */
  public List<Span> timesInForce() {
    List<Span> holds = new Span(since, until).overlap(decided).stream().toList();
    if (code == FlagCode.REMOVAL_NOT_RECORDED) {
      return holds;
    }
    return catheter.timesInPlace().stream()
        .flatMap(time -> holds.stream().flatMap(held -> time.overlap(held).stream()))
        .toList();
  }
}
