package indwell.web.fhir;

import indwell.fhir.term.Extensions;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.YearMonth;
import java.util.Optional;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.DateType;
import org.hl7.fhir.r4.model.DecimalType;
import org.hl7.fhir.r4.model.IntegerType;
import org.hl7.fhir.r4.model.Parameters.ParametersParameterComponent;
import org.hl7.fhir.r4.model.StringType;
import org.hl7.fhir.r4.model.Type;

/**
 * The parts of one parameter. A figure carries its trace; one that is not there carries the reason
 * instead of a value, and never 0.
 */
final class FigureParts {
  /** There cannot be a value: it is undefined, or withheld by its rule. */
  static final String NOT_APPLICABLE = "not-applicable";

  /** Nobody has told the value. */
  static final String UNKNOWN = "unknown";

  private final ParametersParameterComponent parent;

  FigureParts(ParametersParameterComponent parent) {
    this.parent = parent;
  }

  /** A part that has parts of its own. */
  FigureParts group(String name) {
    return new FigureParts(parent.addPart().setName(name));
  }

  FigureParts text(String name, String text) {
    return add(name, new StringType(text));
  }

  FigureParts code(String name, String code) {
    return add(name, new CodeType(code));
  }

  FigureParts month(String name, YearMonth month) {
    return add(name, new DateType(month.toString()));
  }

  FigureParts count(String name, long count, FigureTrace trace) {
    return traced(name, new IntegerType(Math.toIntExact(count)), trace);
  }

  FigureParts count(String name, Optional<Integer> count, FigureTrace trace) {
    return traced(
        name,
        count.<Type>map(IntegerType::new).orElseGet(() -> absent(new IntegerType(), UNKNOWN)),
        trace);
  }

  FigureParts yes(String name, boolean yes, FigureTrace trace) {
    return traced(name, new BooleanType(yes), trace);
  }

  /**
   * A number.
   *
   * @param absent code of the reason when there is none
   */
  FigureParts number(String name, Optional<BigDecimal> number, String absent, FigureTrace trace) {
    return traced(
        name,
        number.<Type>map(DecimalType::new).orElseGet(() -> absent(new DecimalType(), absent)),
        trace);
  }

  FigureParts number(String name, BigDecimal number, FigureTrace trace) {
    return traced(name, new DecimalType(number), trace);
  }

  /** A number with so many decimals, the last one rounded half up. */
  FigureParts number(String name, double number, int decimals, FigureTrace trace) {
    return number(name, rounded(number, decimals), trace);
  }

  static BigDecimal rounded(double number, int decimals) {
    return BigDecimal.valueOf(number).setScale(decimals, RoundingMode.HALF_UP);
  }

  private static Type absent(Type empty, String reason) {
    empty.addExtension(Extensions.DATA_ABSENT_REASON, new CodeType(reason));
    return empty;
  }

  private FigureParts traced(String name, Type value, FigureTrace trace) {
    value.addExtension(trace.extension());
    return add(name, value);
  }

  private FigureParts add(String name, Type value) {
    parent.addPart().setName(name).setValue(value);
    return this;
  }
}
