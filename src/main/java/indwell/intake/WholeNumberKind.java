package indwell.intake;

import java.math.BigDecimal;
import java.util.Optional;

/**
 * A number without a fraction; {@code 3.0} and {@code 3e0} are 3.
 *
 * @param bounds both included
 */
record WholeNumberKind(DecimalKind bounds) implements FieldKind<Integer> {

  static WholeNumberKind of(String noun, String unit, int least, int most) {
    return new WholeNumberKind(
        new DecimalKind(noun, unit, BigDecimal.valueOf(least), BigDecimal.valueOf(most)));
  }

  @Override
  public String expected() {
    return "a whole number from " + bounds.range();
  }

  @Override
  public Optional<Integer> read(Object value, String path, Faults faults) {
    // A gated number has no trailing zeros, so a scale is a fraction.
    if (value instanceof BigDecimal number && number.scale() <= 0) {
      return bounds.read(value, path, faults).map(BigDecimal::intValueExact);
    }
    faults.wrongType(path, value, expected());
    return Optional.empty();
  }
}
