package indwell.domain.event;

import java.util.Optional;

/**
 * Why a catheter is in. Eight accepted indications and the two uses that the guideline calls
 * inappropriate but that happen and must be recordable.
 *
 * <p>Source: HICPAC 2009, Table 2 (appropriate and inappropriate indications).
 */
public enum Indication {
  ACUTE_RETENTION("acute-retention", true),
  OUTLET_OBSTRUCTION("outlet-obstruction", true),
  CRITICAL_ILLNESS_OUTPUT("critical-illness-output", true),
  PERIOPERATIVE("perioperative", true),
  OPEN_WOUND_INCONTINENCE("open-wound-incontinence", true),
  PROLONGED_IMMOBILISATION("prolonged-immobilisation", true),
  END_OF_LIFE_COMFORT("end-of-life-comfort", true),
  OTHER("other", true),
  INCONTINENCE_CARE("incontinence-care", false),
  URINE_SAMPLING("urine-sampling", false);

  private final String code;
  private final boolean accepted;

  Indication(String code, boolean accepted) {
    this.code = code;
    this.accepted = accepted;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** False for the two uses that the guideline calls inappropriate. */
  public boolean accepted() {
    return accepted;
  }

  /** The indication with that wire code; empty when there is none. */
  public static Optional<Indication> ofCode(String code) {
    return Coded.find(values(), Indication::code, code);
  }
}
