package indwell.web.page;

import indwell.domain.event.Drainage;
import indwell.domain.event.EventType;
import indwell.domain.event.Indication;
import indwell.domain.event.Placing;
import indwell.domain.event.Route;
import indwell.domain.event.StatedIndication;

/** Codes of events in the words of a ward. */
public final class Words {
  private Words() {}

  /** A kind of event. */
  public static String of(EventType type) {
    return switch (type) {
      case PATIENT_ADMITTED -> "Admission";
      case PATIENT_TRANSFERRED -> "Transfer";
      case PATIENT_DISCHARGED -> "Discharge";
      case CATHETER_INSERTED -> "Insertion";
      case CATHETER_EXCHANGED -> "Exchange";
      case CATHETER_REMOVED -> "Removal";
      case NEED_REVIEWED -> "Review of need";
      case SECUREMENT_CHANGED -> "Securement change";
      case CARE_CHECKED -> "Care check";
      case URINE_MEASURED -> "Urine output";
      case SPECIMEN_COLLECTED -> "Specimen";
      case WEIGHT_MEASURED -> "Body weight";
    };
  }

  /** Why a catheter is in, with what was written beside the code. */
  public static String of(StatedIndication stated) {
    String words = of(stated.code());
    return stated.text().map(text -> words + ": " + text).orElse(words);
  }

  /** Why a catheter is in. */
  public static String of(Indication code) {
    return switch (code) {
      case ACUTE_RETENTION -> "Acute retention";
      case OUTLET_OBSTRUCTION -> "Outlet obstruction";
      case CRITICAL_ILLNESS_OUTPUT -> "Output in critical illness";
      case PERIOPERATIVE -> "Perioperative";
      case OPEN_WOUND_INCONTINENCE -> "Open wound with incontinence";
      case PROLONGED_IMMOBILISATION -> "Prolonged immobilisation";
      case END_OF_LIFE_COMFORT -> "Comfort at the end of life";
      case OTHER -> "Other";
      case INCONTINENCE_CARE -> "Care of incontinence";
      case URINE_SAMPLING -> "Urine sampling";
    };
  }

  /** What kind of catheter it is: {@code urethral, 14 Ch}. */
  public static String of(Placing placing) {
    String route = placing.route() == Route.URETHRAL ? "urethral" : "suprapubic";
    String bag = placing.drainage() == Drainage.BAG ? "" : ", no drainage bag";
    return route + ", " + placing.product().sizeCh() + " Ch" + bag;
  }
}
