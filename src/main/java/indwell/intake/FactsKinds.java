package indwell.intake;

import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.util.Locale;

/** The kinds of field that facts have: every bound stands here once. */
final class FactsKinds {
  static final FieldKind<Integer> MANUAL_PATIENT_DAYS = days("Manual patient days");
  static final FieldKind<Integer> MANUAL_CATHETER_DAYS = days("Manual catheter days");
  static final FieldKind<Integer> SAMPLED_PATIENT_DAYS = days("Sampled patient days");
  static final FieldKind<Integer> SAMPLED_CATHETER_DAYS = days("Sampled catheter days");
  static final FieldKind<Integer> CONFIRMED_CAUTI =
      WholeNumberKind.of("Number of confirmed CAUTI", "", 0, 10_000);
  static final FieldKind<BigDecimal> PREDICTED_CAUTI =
      DecimalKind.of("Predicted CAUTI", "", "0", "10000");
  static final FieldKind<BigDecimal> PREDICTED_DEVICE_DAYS =
      DecimalKind.of("Predicted device days", "", "0", "1000000");
  static final FieldKind<DayOfWeek> WEEKDAY =
      new CodeKind<>(DayOfWeek.values(), day -> day.name().toLowerCase(Locale.ROOT));

  private FactsKinds() {}

  private static FieldKind<Integer> days(String noun) {
    return WholeNumberKind.of(noun, "", 0, 1_000_000);
  }
}
