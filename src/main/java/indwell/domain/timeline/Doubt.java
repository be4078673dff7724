package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.refusal.IssueCode;

/** What a remark of the table of conflicts says. */
final class Doubt {
  private Doubt() {}

  /** The sentence about a movement. */
  static String ofMovement(IssueCode code) {
    return switch (code) {
      case STAY_WITHOUT_ADMISSION ->
          "The stay has no admission before this transfer, which is read as its beginning.";
      case MOVEMENT_AFTER_STAY_ENDED ->
          "The stay had ended before this movement, which changes nothing.";
      case DISCHARGE_WITHOUT_STAY -> "The patient was discharged from a stay that had not begun.";
      case ADMITTED_TWICE ->
          "The stay had begun before this admission; it is read as a movement within the stay.";
      case STAY_ENDED_BY_NEXT_ADMISSION ->
          "An earlier stay had no discharge; it is read as ended by this admission.";
      case STAYS_OVERLAP ->
          "The patient was transferred in one stay while another had not ended; the latest movement"
              + " says where the patient is.";
      case MOVEMENTS_AT_ONE_INSTANT ->
          "Two movements happened at one instant; the last in timeline order decides.";
      default -> throw new IllegalStateException("No remark about a movement: " + code);
    };
  }

  /** The sentence about a catheter. */
  static String ofCatheter(IssueCode code, String catheter, BedsideEvent event) {
    return "Catheter " + catheter + " " + aboutCatheter(code, event);
  }

  /** The sentence about an insertion or exchange that another one of its instant overrules. */
  static String ofOverruled(String catheter) {
    return "Catheter "
        + catheter
        + " was put in by another event of the same instant too, which decides as the last in"
        + " timeline order; this one changes nothing.";
  }

  private static String aboutCatheter(IssueCode code, BedsideEvent event) {
    return switch (code) {
      case CATHETER_OUTSIDE_STAY ->
          "was put in outside any stay; it makes no catheter day until a stay begins.";
      case INSERTION_OF_CATHETER_IN_PLACE ->
          "was in place already; this insertion changes nothing.";
      case REMOVAL_OF_CATHETER_NOT_IN_PLACE -> "was removed but was not in place then.";
      case EXCHANGE_OF_CATHETER_NOT_IN_PLACE -> "was exchanged but was not in place then.";
      case FACT_OF_CATHETER_NOT_IN_PLACE ->
          "was not in place at the time of this "
              + event.type().code()
              + " event, which changes no clock.";
      default -> throw new IllegalStateException("No remark about a catheter: " + code);
    };
  }
}
