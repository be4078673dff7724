package indwell.domain.event;

import java.util.Optional;

/** What a urine specimen was taken for. */
public enum SpecimenPurpose {
  CULTURE("culture"),
  URINALYSIS("urinalysis"),
  HOLD("hold");

  private final String code;

  SpecimenPurpose(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<SpecimenPurpose> ofCode(String code) {
    return Coded.find(values(), SpecimenPurpose::code, code);
  }
}
