package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.PredictedCauti;
import java.util.Map;
import java.util.Optional;

/**
 * Whether and how CAUTI are predicted here.
 *
 * @param model empty when predictions are off
 * @param locationGroups group of NHSN location types, of the wards that have one
 */
public record Predictions(Optional<PredictedCauti> model, Map<Ward, String> locationGroups) {
  /** Predictions are off. */
  public static final Predictions OFF = new Predictions(Optional.empty(), Map.of());

  public Predictions {
    locationGroups = Map.copyOf(locationGroups);
  }

  Optional<PredictedCauti.Prediction> predict(Ward ward, long catheterDays) {
    return model.flatMap(
        one -> one.predict(Optional.ofNullable(locationGroups.get(ward)), catheterDays));
  }
}
