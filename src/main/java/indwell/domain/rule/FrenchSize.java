package indwell.domain.rule;

import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * The outer diameter of a catheter in Charrière (French).
 *
 * <p>Source: UCUM 2.2, unit {@code [Ch]}: exactly one third of a millimetre.
 */
public record FrenchSize(int ch) {
  private static final BigDecimal CH_PER_MM = BigDecimal.valueOf(3);

  /** The diameter in mm, rounded half up. */
  public BigDecimal millimetres(int decimals) {
    return BigDecimal.valueOf(ch).divide(CH_PER_MM, decimals, RoundingMode.HALF_UP);
  }
}
