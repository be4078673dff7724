package indwell.domain.rule;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;

/**
 * An exact rational number, so that a volume split over time is compared with a threshold without
 * any rounding: 0.5 is not below 0.5.
 *
 * @param denominator positive
 */
record Fraction(BigInteger numerator, BigInteger denominator) implements Comparable<Fraction> {
  static final Fraction ZERO = new Fraction(BigInteger.ZERO, BigInteger.ONE);

  Fraction {
    if (denominator.signum() <= 0) {
      throw new IllegalArgumentException("Denominator " + denominator + " is not positive");
    }
    BigInteger divisor = numerator.gcd(denominator);
    numerator = numerator.divide(divisor);
    denominator = denominator.divide(divisor);
  }

  static Fraction of(BigDecimal value) {
    return value.scale() > 0
        ? new Fraction(value.unscaledValue(), BigInteger.TEN.pow(value.scale()))
        : new Fraction(value.toBigIntegerExact(), BigInteger.ONE);
  }

  Fraction plus(Fraction other) {
    return new Fraction(
        numerator.multiply(other.denominator).add(other.numerator.multiply(denominator)),
        denominator.multiply(other.denominator));
  }

  Fraction times(long factor) {
    return new Fraction(numerator.multiply(BigInteger.valueOf(factor)), denominator);
  }

  /** The divisor is positive. */
  Fraction over(long divisor) {
    return new Fraction(numerator, denominator.multiply(BigInteger.valueOf(divisor)));
  }

  /** The divisor is positive. */
  Fraction over(Fraction divisor) {
    return new Fraction(
        numerator.multiply(divisor.denominator), denominator.multiply(divisor.numerator));
  }

  boolean isZero() {
    return numerator.signum() == 0;
  }

  BigDecimal rounded(int decimals) {
    return new BigDecimal(numerator)
        .divide(new BigDecimal(denominator), decimals, RoundingMode.HALF_UP);
  }

  @Override
  public int compareTo(Fraction other) {
    return numerator.multiply(other.denominator).compareTo(other.numerator.multiply(denominator));
  }
}
