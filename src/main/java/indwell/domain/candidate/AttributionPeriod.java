package indwell.domain.candidate;

import indwell.domain.candidate.Outcome.SecondaryBlood;
import indwell.domain.rule.RuleId;
import java.util.Comparator;
import java.util.List;

/**
 * The secondary attribution period: from the start of the infection window to the end of the repeat
 * timeframe, 14 to 17 dates. A blood culture in it with a matching organism may be secondary to the
 * urinary event.
 *
 * <p>Rule SECOND-1. Source: NHSN manual chapter 2 (rules P9, P11; from memory); the length follows
 * from rules P1 and P6 (derived).
 */
public final class AttributionPeriod {
  private AttributionPeriod() {}

  /** Both together. */
  public static Ruled<DateRange> of(DateRange window, DateRange timeframe) {
    DateRange period = new DateRange(window.start(), timeframe.endInclusive());
    return Ruled.of(
        period,
        RuleId.SECOND_1,
        "Secondary attribution period "
            + period.words()
            + ", "
            + period.days()
            + " dates: the infection window and the repeat timeframe together.");
  }

  /** The blood specimens of the period with one of the organisms, ascending by date. */
  static List<SecondaryBlood> blood(
      DateRange period, List<Organism> organisms, List<BloodCulture> blood) {
    return blood.stream()
        .filter(one -> period.holds(one.collectedOn()))
        .map(one -> new SecondaryBlood(one.collectedOn(), one.matching(organisms)))
        .filter(one -> !one.organisms().isEmpty())
        .sorted(Comparator.comparing(SecondaryBlood::collectedOn))
        .toList();
  }
}
