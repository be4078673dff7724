package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;

/**
 * The electronic count of one ward and month against the manual one. A month passes when the two
 * differ by at most 5 % of the manual count, which is compared in whole numbers.
 *
 * <p>Rule ELEC-1. Source: NHSN chapter 7, Table 2 (rules C17 to C20): 5 % restated, three months
 * from memory. Neither of the counts is presumed to be the right one (rule C20).
 *
 * @param electronic days counted by Indwell; not negative
 * @param manual days counted at the bedside; not negative
 */
public record ElectronicCheck(long electronic, long manual) {
  private static final long PER_CENT = 5;

  /** Whether the month passes; empty when the manual count is 0, of which 5 % is nothing. */
  public Optional<Boolean> passes() {
    if (manual == 0) {
      return Optional.empty();
    }
    long apart = Math.abs(electronic - manual);
    return Optional.of(Math.multiplyExact(apart, 100) <= Math.multiplyExact(manual, PER_CENT));
  }

  /** {@code (electronic - manual) / manual * 100}, rounded half up; empty when manual is 0. */
  public Optional<BigDecimal> differencePercent(int decimals) {
    if (manual == 0) {
      return Optional.empty();
    }
    return Optional.of(
        BigDecimal.valueOf(Math.multiplyExact(electronic - manual, 100L))
            .divide(BigDecimal.valueOf(manual), decimals, RoundingMode.HALF_UP));
  }
}
