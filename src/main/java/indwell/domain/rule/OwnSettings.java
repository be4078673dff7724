package indwell.domain.rule;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;

/**
 * What a ward sets for itself from a date on. What is empty is as the facility has it; an earlier
 * entry of the ward does not shine through.
 *
 * @param from the first local date on which it holds; it holds until the next entry begins
 * @param countTime local time of the daily count
 */
public record OwnSettings(
    LocalDate from,
    Optional<LocalTime> countTime,
    Optional<LocalTime> reviewDueBy,
    Optional<Integer> securementGoodDays,
    Optional<Duration> outputChartingWithin,
    Optional<Duration> careCheckWithin,
    Optional<Duration> postoperativeWithin,
    Optional<BigDecimal> balloonToleranceMl,
    Optional<UrineReading> urineReading) {

  /** The limits of the ward: its own, and the wider ones where it has none. */
  public RuleSettings over(RuleSettings wider) {
    return new RuleSettings(
        reviewDueBy.orElse(wider.reviewDueBy()),
        securementGoodDays.orElse(wider.securementGoodDays()),
        outputChartingWithin.orElse(wider.outputChartingWithin()),
        careCheckWithin.orElse(wider.careCheckWithin()),
        postoperativeWithin.orElse(wider.postoperativeWithin()),
        balloonToleranceMl.orElse(wider.balloonToleranceMl()),
        urineReading.orElse(wider.urineReading()));
  }
}
