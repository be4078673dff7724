package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.math.BigDecimal;
import java.util.Optional;

/**
 * A quantity within bounds, both included.
 *
 * @param noun what it measures, as a sentence begins: {@code Balloon fill}
 * @param unit its unit, as a sentence writes it; empty for none
 */
record DecimalKind(String noun, String unit, BigDecimal least, BigDecimal most)
    implements FieldKind<BigDecimal> {

  static DecimalKind of(String noun, String unit, String least, String most) {
    return new DecimalKind(noun, unit, new BigDecimal(least), new BigDecimal(most));
  }

  @Override
  public String expected() {
    return "a number from " + range();
  }

  @Override
  public Optional<BigDecimal> read(Object value, String path, Faults faults) {
    if (!(value instanceof BigDecimal number)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    if (number.compareTo(least) >= 0 && number.compareTo(most) <= 0) {
      return Optional.of(number);
    }
    faults.add(
        IssueCode.OUT_OF_RANGE,
        path,
        noun
            + " of "
            + withUnit(Quoted.number(number))
            + " is out of range; expected "
            + range()
            + ".");
    return Optional.empty();
  }

  /** Both bounds and the unit: {@code 0 to 100 mL}. */
  String range() {
    return withUnit(least.toPlainString() + " to " + most.toPlainString());
  }

  private String withUnit(String number) {
    return unit.isEmpty() ? number : number + " " + unit;
  }
}
