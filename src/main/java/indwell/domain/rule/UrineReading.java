package indwell.domain.rule;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Optional;

/** How a facility or ward has low urine output staged. */
public enum UrineReading {
  /** KDIGO's table by the mean over windows of 6, 12 and 24 h; see {@link MeanUrineOutput}. */
  MEAN(
      "mean",
      "KDIGO 2012 AKI guideline, Table 2, urine output (restated, MSD Manual), read by the mean over"
          + " the window, one of two readings in use: Allen 2020 (published)",
      "0.5",
      false),
  /** KDIGO's table by every charted hour; see {@link ConsecutiveUrineOutput}. */
  CONSECUTIVE(
      "consecutive",
      "KDIGO 2012 AKI guideline, Table 2, urine output (restated, MSD Manual), read by every charted"
          + " hour, one of two readings in use: Allen 2020 (published)",
      "0.5",
      false),
  /** The neonatal thresholds by the mean over 24 h; see {@link NeonatalUrineOutput}. */
  NEONATAL(
      "neonatal",
      "neonatal modification of KDIGO, urine output by the mean over 24 hours (restated, BMC Nephrol"
          + " 2020, doi:10.1186/s12882-020-01945-z, Table 1)",
      "1",
      true);

  private final String code;
  private final String source;
  private final BigDecimal limit;
  private final boolean lowAtLimit;

  UrineReading(String code, String source, String limit, boolean lowAtLimit) {
    this.code = code;
    this.source = source;
    this.limit = new BigDecimal(limit);
    this.lowAtLimit = lowAtLimit;
  }

  /** The word in settings and answers. */
  public String code() {
    return code;
  }

  /** Where the table comes from, and that it may be read so. */
  public String source() {
    return source;
  }

  /** What parts stage 0 from those above, by that same table. */
  public UrineLimit limit() {
    return new UrineLimit(limit, lowAtLimit);
  }

  /** The reading of that word. */
  public static Optional<UrineReading> ofCode(String code) {
    return Arrays.stream(values()).filter(one -> one.code.equals(code)).findFirst();
  }
}
