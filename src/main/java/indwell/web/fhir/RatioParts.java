package indwell.web.fhir;

import indwell.domain.rule.RuleId;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.StandardisedRatio.Calculated;
import indwell.domain.surveillance.StandardisedRatio.NotCalculated;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.Withheld;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Writes a standardised ratio: the figures with their limits, or the reason why it is withheld. */
final class RatioParts {
  private static final int P_DECIMALS = 4;

  /** Reasons that a value is not known, where others say that there can be none. */
  private static final Set<Withheld> NOT_TOLD =
      Set.of(Withheld.NO_PREDICTION, Withheld.NO_OBSERVATION, Withheld.NO_LOCATION_GROUP);

  private RatioParts() {}

  /**
   * Adds the ratio.
   *
   * @param tally what went into it, as far as it is known; of a calculated ratio its own counts
   */
  static void add(
      FigureParts parts,
      RuleId rule,
      Optional<Tally> tally,
      StandardisedRatio ratio,
      List<FigureTrace.Fact> facts) {
    Optional<Tally> counts =
        ratio instanceof Calculated calculated ? Optional.of(calculated.tally()) : tally;
    FigureTrace trace = FigureTrace.of(rule, finding(counts, ratio), facts);
    counts.ifPresent(
        found ->
            parts
                .count("observed", found.observed(), trace)
                .number("predicted", found.predicted(), trace)
                .text("baseline", found.baseline()));
    if (ratio instanceof Calculated calculated) {
      addCalculated(parts, calculated, trace);
    } else {
      Withheld reason = ((NotCalculated) ratio).reason();
      String absent = NOT_TOLD.contains(reason) ? FigureParts.UNKNOWN : FigureParts.NOT_APPLICABLE;
      parts.number("ratio", Optional.empty(), absent, trace).text("withheld", reason.sentence());
    }
  }

  private static void addCalculated(FigureParts parts, Calculated calculated, FigureTrace trace) {
    Optional<BigDecimal> lower =
        calculated.lower().stream()
            .mapToObj(limit -> FigureParts.rounded(limit, StandardisedRatio.DECIMALS))
            .findFirst();
    parts
        .number("ratio", calculated.ratio(StandardisedRatio.DECIMALS), trace)
        .number("lower", lower, FigureParts.NOT_APPLICABLE, trace)
        .number("upper", calculated.upper(), StandardisedRatio.DECIMALS, trace)
        .number("p", calculated.p(), P_DECIMALS, trace)
        .text("comparison", calculated.comparison().word());
  }

  private static String finding(Optional<Tally> counts, StandardisedRatio ratio) {
    String what =
        counts
            .map(
                found ->
                    found.observed()
                        + " observed, "
                        + found
                            .predicted()
                            .setScale(
                                Math.min(found.predicted().scale(), P_DECIMALS),
                                RoundingMode.HALF_UP)
                        + " predicted ("
                        + found.baseline()
                        + ")")
            .orElse("not all that is needed is known");
    return ratio instanceof NotCalculated withheld
        ? what + "; withheld: " + withheld.reason().sentence()
        : what + "; mid-P exact 95 % limits.";
  }
}
