package indwell.web.page.svg;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;

/** Round values for an axis that begins at 0. */
public final class Ticks {
  private static final int WANTED = 4;

  private Ticks() {}

  /** From 0 in steps of 1, 2 or 5 times a power of ten up to the first at or above the highest. */
  public static List<BigDecimal> upTo(double highest) {
    return upTo(highest, BigDecimal.ZERO);
  }

  /** The same of what is counted, which has no parts. */
  public static List<BigDecimal> wholeUpTo(double highest) {
    return upTo(highest, BigDecimal.ONE);
  }

  private static List<BigDecimal> upTo(double highest, BigDecimal leastStep) {
    double rough = Math.max(highest, 1e-9) / WANTED;
    int power = (int) Math.floor(Math.log10(rough));
    BigDecimal step = BigDecimal.ONE.scaleByPowerOfTen(power);
    for (int times : new int[] {1, 2, 5, 10}) {
      step = BigDecimal.valueOf(times).scaleByPowerOfTen(power);
      if (step.doubleValue() >= rough) {
        break;
      }
    }
    step = step.max(leastStep);
    List<BigDecimal> ticks = new ArrayList<>();
    BigDecimal tick = BigDecimal.ZERO;
    ticks.add(tick);
    while (tick.doubleValue() < highest) {
      tick = tick.add(step);
      ticks.add(tick);
    }
    return ticks;
  }

  /** The value as a label. */
  public static String label(BigDecimal tick) {
    return tick.signum() == 0 ? "0" : tick.stripTrailingZeros().toPlainString();
  }
}
