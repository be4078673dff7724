package indwell.intake;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.function.Function;

/** Predicted counts, which say nothing without the baseline that they rest on. */
record FactsPredictions(
    Optional<BigDecimal> cauti, Optional<BigDecimal> deviceDays, Optional<String> baseline) {

  static FactsPredictions read(
      ObjectReader fields, Function<FactsField, String> names, Faults faults) {
    String cauti = names.apply(FactsField.PREDICTED_CAUTI);
    String deviceDays = names.apply(FactsField.PREDICTED_DEVICE_DAYS);
    boolean predicted = fields.has(cauti) || fields.has(deviceDays);
    String baseline = names.apply(FactsField.BASELINE);
    if (fields.has(baseline) && !predicted) {
      faults.missing(cauti, "a prediction that the " + baseline + " is about");
    }
    return new FactsPredictions(
        fields.optional(cauti, FactsKinds.PREDICTED_CAUTI),
        fields.optional(deviceDays, FactsKinds.PREDICTED_DEVICE_DAYS),
        fields.requiredIf(predicted, baseline, Kinds.TEXT));
  }
}
