package indwell.domain.rule;

import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * KDIGO's urine-output stages read hour by hour: every single charted hour below the threshold. It
 * asks for intervals of at most an hour; a longer one says nothing about its single hours.
 *
 * <p>Source: KDIGO 2012 AKI guideline, Table 2; the reading is the "UOcons" of Allen 2020, BMC
 * Nephrol, doi:10.1186/s12882-019-1678-2.
 */
public final class ConsecutiveUrineOutput {
  private static final Duration HOUR = Duration.ofHours(1);
  private static final Fraction HALF = Fraction.of(new BigDecimal("0.5"));
  private static final Fraction THREE_TENTHS = Fraction.of(new BigDecimal("0.3"));

  private final List<UrineOutput> newestFirst;
  private final BigDecimal kg;

  /**
   * @param intervals measured intervals in any order, without overlap
   * @param kg body weight in kg, positive
   */
  public ConsecutiveUrineOutput(List<UrineOutput> intervals, BigDecimal kg) {
    List<UrineOutput> ordered = new ArrayList<>(intervals);
    ordered.sort(Comparator.comparing(UrineOutput::at).reversed());
    this.newestFirst = ordered;
    this.kg = kg;
  }

  /** Stage 0 to 3; empty when nothing is charted or the last interval is longer than an hour. */
  public Optional<Integer> stage() {
    if (newestFirst.isEmpty() || length(newestFirst.get(0)).compareTo(HOUR) > 0) {
      return Optional.empty();
    }
    if (run(rate -> rate.compareTo(THREE_TENTHS) < 0).compareTo(HOUR.multipliedBy(24)) >= 0
        || run(Fraction::isZero).compareTo(HOUR.multipliedBy(12)) >= 0) {
      return Optional.of(3);
    }
    Duration low = run(rate -> rate.compareTo(HALF) < 0);
    if (low.compareTo(HOUR.multipliedBy(12)) >= 0) {
      return Optional.of(2);
    }
    return Optional.of(low.compareTo(HOUR.multipliedBy(6)) >= 0 ? 1 : 0);
  }

  /** How long, back from the newest interval, every interval met the condition without a gap. */
  private Duration run(Predicate<Fraction> meets) {
    Duration run = Duration.ZERO;
    Instant expectedEnd = newestFirst.get(0).at();
    for (UrineOutput one : newestFirst) {
      boolean unbroken = one.at().equals(expectedEnd) && length(one).compareTo(HOUR) <= 0;
      if (!unbroken || !meets.test(ratePerKgHour(one))) {
        return run;
      }
      run = run.plus(length(one));
      expectedEnd = one.from();
    }
    return run;
  }

  private static Duration length(UrineOutput one) {
    return Duration.between(one.from(), one.at());
  }

  private Fraction ratePerKgHour(UrineOutput one) {
    return Fraction.of(one.volumeMl())
        .times(HOUR.toMillis())
        .over(length(one).toMillis())
        .over(Fraction.of(kg));
  }
}
