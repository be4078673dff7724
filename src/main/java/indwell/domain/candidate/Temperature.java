package indwell.domain.candidate;

import java.math.BigDecimal;

/**
 * A body temperature as it was charted: nothing is converted for the route, and the bounds are
 * compared in the unit of the reading without rounding. 38.0 degrees Celsius and 100.4 degrees
 * Fahrenheit are no fever.
 *
 * <p>Rule FEVER-1. Source: NHSN manual chapter 7, Table 1 (rules U3, U5; restated, Taiwan CDC); as
 * charted (rule U6; from memory).
 */
public record Temperature(BigDecimal value, Unit unit) {

  /** A unit, by its UCUM code, with both bounds in it. */
  public enum Unit {
    CELSIUS("Cel", "38.0", "36.0"),
    FAHRENHEIT("[degF]", "100.4", "96.8");

    private final String code;
    private final BigDecimal feverAbove;
    private final BigDecimal hypothermiaBelow;

    Unit(String code, String feverAbove, String hypothermiaBelow) {
      this.code = code;
      this.feverAbove = new BigDecimal(feverAbove);
      this.hypothermiaBelow = new BigDecimal(hypothermiaBelow);
    }

    /** The UCUM code. */
    public String code() {
      return code;
    }
  }

  /** Above 38.0 degrees Celsius. */
  public boolean isFever() {
    return value.compareTo(unit.feverAbove) > 0;
  }

  /** Below 36.0 degrees Celsius. */
  public boolean isHypothermia() {
    return value.compareTo(unit.hypothermiaBelow) < 0;
  }

  String words() {
    return value.toPlainString() + " " + unit.code;
  }
}
