package indwell.domain.rule;

import java.math.BigDecimal;
import java.time.Duration;

/** Values as the findings write them, with their units. */
final class Words {
  private Words() {}

  /** {@code 8 h}, or {@code 8 h 30 min}. */
  static String hours(Duration duration) {
    long minutes = duration.toMinutesPart();
    return duration.toHours() + " h" + (minutes == 0 ? "" : " " + minutes + " min");
  }

  /** {@code 7.5 mL}. */
  static String millilitres(BigDecimal volume) {
    return volume.toPlainString() + " mL";
  }
}
