package indwell.domain.rule;

import java.util.Arrays;
import java.util.Optional;

/** How a facility or ward has low urine output staged. */
public enum UrineReading {
  /** KDIGO's table by the mean over windows of 6, 12 and 24 h; see {@link MeanUrineOutput}. */
  MEAN("mean"),
  /** KDIGO's table by every charted hour; see {@link ConsecutiveUrineOutput}. */
  CONSECUTIVE("consecutive"),
  /** The neonatal thresholds by the mean over 24 h; see {@link NeonatalUrineOutput}. */
  NEONATAL("neonatal");

  private final String code;

  UrineReading(String code) {
    this.code = code;
  }

  /** The word in settings and answers. */
  public String code() {
    return code;
  }

  /** The reading of that word. */
  public static Optional<UrineReading> ofCode(String code) {
    return Arrays.stream(values()).filter(one -> one.code.equals(code)).findFirst();
  }
}
