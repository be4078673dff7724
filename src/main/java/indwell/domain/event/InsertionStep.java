package indwell.domain.event;

import java.util.Optional;

/** The steps of an insertion, in the order in which they are done at the bedside. */
public enum InsertionStep {
  HAND_HYGIENE("hand-hygiene"),
  PERINEAL_CLEANSING("perineal-cleansing"),
  STERILE_GLOVES("sterile-gloves"),
  STERILE_DRAPE("sterile-drape"),
  ANTISEPTIC_PREPARATION("antiseptic-preparation"),
  LUBRICANT("lubricant"),
  NO_PRE_INFLATION("no-pre-inflation"),
  ADVANCED_AFTER_URINE("advanced-after-urine"),
  FULL_SYRINGE_IN_BALLOON("full-syringe-in-balloon"),
  GENTLE_TRACTION("gentle-traction"),
  SECUREMENT_APPLIED("securement-applied"),
  BAG_BELOW_BLADDER("bag-below-bladder"),
  NO_DEPENDENT_LOOP("no-dependent-loop"),
  PATIENT_EDUCATION("patient-education");

  private final String code;

  InsertionStep(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<InsertionStep> ofCode(String code) {
    return Coded.find(values(), InsertionStep::code, code);
  }
}
