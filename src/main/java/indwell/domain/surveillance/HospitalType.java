package indwell.domain.surveillance;

import java.util.Arrays;
import java.util.Optional;

/** The kinds of hospital for which a table of coefficients is at hand. */
public enum HospitalType {
  ACUTE_CARE("acute-care"),
  CRITICAL_ACCESS("critical-access"),
  LONG_TERM_ACUTE_CARE("long-term-acute-care");

  private final String code;

  HospitalType(String code) {
    this.code = code;
  }

  /** The code that the configuration writes, and the end of the file name of its table. */
  public String code() {
    return code;
  }

  /** The type with that code. */
  public static Optional<HospitalType> ofCode(String code) {
    return Arrays.stream(values()).filter(type -> type.code.equals(code)).findFirst();
  }
}
