package indwell.domain.rule;

import java.util.Arrays;
import java.util.Optional;

/** How a facility or ward has low urine output staged. */
public enum UrineReading {
  /** KDIGO's table by the mean over windows of 6, 12 and 24 h; see {@link MeanUrineOutput}. */
  MEAN(
      "mean",
      "KDIGO 2012 AKI guideline, Table 2, urine output (restated, MSD Manual), read by the mean over"
          + " the window, one of two readings in use: Allen 2020 (published)"),
  /** KDIGO's table by every charted hour; see {@link ConsecutiveUrineOutput}. */
  CONSECUTIVE(
      "consecutive",
      "KDIGO 2012 AKI guideline, Table 2, urine output (restated, MSD Manual), read by every charted"
          + " hour, one of two readings in use: Allen 2020 (published)"),
  /** The neonatal thresholds by the mean over 24 h; see {@link NeonatalUrineOutput}. */
  NEONATAL(
      "neonatal",
      "neonatal modification of KDIGO, urine output by the mean over 24 hours (restated, BMC Nephrol"
          + " 2020, doi:10.1186/s12882-020-01945-z, Table 1)");

  private final String code;
  private final String source;

  UrineReading(String code, String source) {
    this.code = code;
    this.source = source;
  }

  /** The word in settings and answers. */
  public String code() {
    return code;
  }

  /** Where the table comes from, and that it may be read so. */
  public String source() {
    return source;
  }

  /** The reading of that word. */
  public static Optional<UrineReading> ofCode(String code) {
    return Arrays.stream(values()).filter(one -> one.code.equals(code)).findFirst();
  }
}
