package indwell.domain.rule;

import java.math.BigDecimal;

/**
 * The rate from which on urine output is not low any more, stage 0. A stage is made by whole
 * windows; one interval is only on one side of the limit or the other.
 *
 * @param rate in mL/kg/h
 * @param lowAtRate whether the very rate is low, too
 */
public record UrineLimit(BigDecimal rate, boolean lowAtRate) {
  /** Whether a rate is low, in mL/kg/h. */
  public boolean makesLow(BigDecimal other) {
    int compared = other.compareTo(rate);
    return lowAtRate ? compared <= 0 : compared < 0;
  }
}
