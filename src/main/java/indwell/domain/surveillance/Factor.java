package indwell.domain.surveillance;

import java.util.Arrays;
import java.util.Optional;

/** What a prediction of CAUTI depends on beside the catheter days. */
public enum Factor {
  /** Group of NHSN location types that the ward belongs to. */
  LOCATION_GROUP("location-group"),
  /** Beds of the hospital. */
  BEDS("beds"),
  /** Affiliation with a medical school. */
  MEDICAL_SCHOOL("medical-school"),
  /** Average length of stay in days: annual patient days by annual admissions. */
  AVERAGE_STAY_DAYS("average-stay-days"),
  /** Beds of intensive care by all beds, 0 to 1. */
  ICU_SHARE("icu-share");

  private final String code;

  Factor(String code) {
    this.code = code;
  }

  /** The name in the tables and in the configuration. */
  public String code() {
    return code;
  }

  static Optional<Factor> ofCode(String code) {
    return Arrays.stream(values()).filter(factor -> factor.code.equals(code)).findFirst();
  }
}
