package indwell.fhir.term;

import java.math.BigDecimal;
import org.hl7.fhir.r4.model.Quantity;

/**
 * Units of measure in use, each with its UCUM code. Quantities always carry value, unit, system and
 * code.
 */
public enum Ucum {
  MILLILITRE("mL", "mL"),
  KILOGRAM("kg", "kg"),
  MILLILITRE_PER_KILOGRAM_AND_HOUR("mL/kg/h", "mL/kg/h"),
  /** Charrière, the French gauge. */
  CHARRIERE("[Ch]", "Ch"),
  ONE("1", "1");

  private final String code;
  private final String unit;

  Ucum(String code, String unit) {
    this.code = code;
    this.unit = unit;
  }

  /** The UCUM code. */
  public String code() {
    return code;
  }

  /** That much of this unit. Numbers equal by value are written alike: 10.0 as 10. */
  public Quantity quantity(BigDecimal value) {
    return new Quantity()
        .setValue(plain(value))
        .setUnit(unit)
        .setSystem(Systems.UCUM)
        .setCode(code);
  }

  /** The same number without trailing zeros behind the point. */
  public static BigDecimal plain(BigDecimal value) {
    BigDecimal stripped = value.stripTrailingZeros();
    return stripped.scale() < 0 ? stripped.setScale(0) : stripped;
  }
}
