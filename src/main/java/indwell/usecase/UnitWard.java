package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.GChart;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.UChart;
import indwell.domain.surveillance.Withheld;
import java.time.YearMonth;
import java.util.List;
import java.util.Optional;

/**
 * What surveillance says of one ward over the whole range.
 *
 * @param infections pooled over the months of which observed and predicted are known
 * @param utilisation likewise
 * @param rates u chart of the rate over the months with a confirmed count and catheter days
 * @param gaps g chart of the days between events
 * @param gapsWithheld why there is no g chart, when there is none
 * @param unknownMonths months without a confirmed count
 */
public record UnitWard(
    Ward ward,
    StandardisedRatio infections,
    StandardisedRatio utilisation,
    Optional<Rates> rates,
    Optional<GChart> gaps,
    Optional<Withheld> gapsWithheld,
    int unknownMonths) {

  /**
   * A u chart with its points.
   *
   * @param months one for each point and pair of limits, in their order
   */
  public record Rates(List<YearMonth> months, List<UChart.Point> points, UChart chart) {
    public Rates {
      months = List.copyOf(months);
      points = List.copyOf(points);
    }
  }
}
