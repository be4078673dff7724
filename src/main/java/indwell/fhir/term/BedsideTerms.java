package indwell.fhir.term;

import indwell.domain.event.CareItem;
import indwell.domain.event.InsertionStep;

/** Steps of an insertion and items of a care check as concepts of our own code systems. */
public final class BedsideTerms {
  /** Code system {@code catheter-insertion-step}. */
  public static final String STEP_SYSTEM = Systems.codeSystem("catheter-insertion-step");

  /** Code system {@code catheter-care-item}. */
  public static final String ITEM_SYSTEM = Systems.codeSystem("catheter-care-item");

  private BedsideTerms() {}

  /** The concept of a step. */
  public static Term of(InsertionStep step) {
    return new Term(STEP_SYSTEM, step.code(), display(step));
  }

  /** The concept of an item. */
  public static Term of(CareItem item) {
    return new Term(ITEM_SYSTEM, item.code(), display(item));
  }

  private static String display(InsertionStep step) {
    return switch (step) {
      case HAND_HYGIENE -> "Hand hygiene";
      case PERINEAL_CLEANSING -> "Perineal cleansing";
      case STERILE_GLOVES -> "Sterile gloves";
      case STERILE_DRAPE -> "Sterile drape";
      case ANTISEPTIC_PREPARATION -> "Antiseptic preparation";
      case LUBRICANT -> "Lubricant";
      case NO_PRE_INFLATION -> "Balloon not inflated beforehand";
      case ADVANCED_AFTER_URINE -> "Advanced after urine returned";
      case FULL_SYRINGE_IN_BALLOON -> "Whole syringe put into the balloon";
      case GENTLE_TRACTION -> "Gentle traction";
      case SECUREMENT_APPLIED -> "Securement applied";
      case BAG_BELOW_BLADDER -> "Bag below the bladder";
      case NO_DEPENDENT_LOOP -> "No dependent loop";
      case PATIENT_EDUCATION -> "Patient education";
    };
  }

  private static String display(CareItem item) {
    return switch (item) {
      case BAG_BELOW_BLADDER -> "Bag below the bladder";
      case BAG_OFF_FLOOR -> "Bag off the floor";
      case NO_DEPENDENT_LOOP -> "No dependent loop";
      case CLOSED_SYSTEM -> "Closed system";
      case SECUREMENT_INTACT -> "Securement intact";
      case MEATAL_HYGIENE -> "Meatal hygiene";
    };
  }
}
