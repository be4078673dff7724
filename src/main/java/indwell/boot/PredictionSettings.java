package indwell.boot;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.Factor;
import indwell.domain.surveillance.HospitalType;
import indwell.domain.surveillance.PredictedCauti;
import indwell.usecase.Predictions;
import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** Turns the configuration into a model of predicted CAUTI, or refuses to start and says why. */
final class PredictionSettings {
  private PredictionSettings() {}

  /**
   * The predictions; off without a hospital type.
   *
   * @throws IllegalArgumentException naming the value that is missing or not known to the table
   */
  static Predictions of(IndwellConfig config) {
    Optional<PredictedCauti> model =
        config.prediction().hospitalType().map(name -> model(name, config));
    Map<Ward, String> groups = new HashMap<>();
    config
        .wards()
        .forEach(
            (code, ward) ->
                ward.locationGroup().ifPresent(group -> groups.put(new Ward(code), group)));
    model
        .filter(PredictedCauti::needsLocationGroup)
        .ifPresent(table -> groups.values().forEach(table::requireGroup));
    return new Predictions(model, groups);
  }

  private static PredictedCauti model(String name, IndwellConfig config) {
    HospitalType type =
        HospitalType.ofCode(name)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "Hospital type "
                            + name
                            + " is unknown; expected acute-care, critical-access or"
                            + " long-term-acute-care."));
    IndwellConfig.Prediction hospital = config.prediction();
    Map<Factor, String> values = new EnumMap<>(Factor.class);
    hospital.beds().ifPresent(beds -> values.put(Factor.BEDS, Integer.toString(beds)));
    hospital.medicalSchool().ifPresent(school -> values.put(Factor.MEDICAL_SCHOOL, school));
    hospital
        .averageStayDays()
        .map(BigDecimal::toPlainString)
        .ifPresent(days -> values.put(Factor.AVERAGE_STAY_DAYS, days));
    hospital
        .icuShare()
        .map(BigDecimal::toPlainString)
        .ifPresent(share -> values.put(Factor.ICU_SHARE, share));
    return new PredictedCauti(type, values);
  }
}
