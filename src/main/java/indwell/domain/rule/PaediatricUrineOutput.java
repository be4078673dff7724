package indwell.domain.rule;

import java.math.BigDecimal;
import java.time.Duration;

/** Urine-output thresholds for children beside KDIGO's, as published. */
public final class PaediatricUrineOutput {
  private PaediatricUrineOutput() {}

  /** The classes of pRIFLE. */
  public enum Prifle {
    NONE,
    RISK,
    INJURY,
    FAILURE
  }

  /**
   * pRIFLE class of a rate that lasted: below 0.5 for more than 8 h risk, for more than 16 h
   * injury; below 0.3 for 24 h, or none for more than 12 h, failure.
   *
   * <p>Source: Ann Intensive Care 2016, doi:10.1186/s13613-016-0145-5, Table 2.
   *
   * @param ratePerKgHour output in mL/kg/h
   * @param lasting how long it has been that low
   */
  public static Prifle prifle(BigDecimal ratePerKgHour, Duration lasting) {
    boolean none = ratePerKgHour.signum() == 0;
    if (none && lasting.compareTo(Duration.ofHours(12)) > 0) {
      return Prifle.FAILURE;
    }
    boolean veryLow = ratePerKgHour.compareTo(new BigDecimal("0.3")) < 0;
    if (veryLow && lasting.compareTo(Duration.ofHours(24)) >= 0) {
      return Prifle.FAILURE;
    }
    if (ratePerKgHour.compareTo(new BigDecimal("0.5")) >= 0) {
      return Prifle.NONE;
    }
    if (lasting.compareTo(Duration.ofHours(16)) > 0) {
      return Prifle.INJURY;
    }
    return lasting.compareTo(Duration.ofHours(8)) > 0 ? Prifle.RISK : Prifle.NONE;
  }
}
