package indwell.web.ward;

import indwell.domain.event.Indication;
import indwell.domain.event.StatedIndication;

/** Why a catheter is in, in the words of a ward. */
final class Reasons {
  private Reasons() {}

  static String of(StatedIndication stated) {
    String words = of(stated.code());
    return stated.text().map(text -> words + ": " + text).orElse(words);
  }

  private static String of(Indication code) {
    return switch (code) {
      case ACUTE_RETENTION -> "Acute retention";
      case OUTLET_OBSTRUCTION -> "Outlet obstruction";
      case CRITICAL_ILLNESS_OUTPUT -> "Output in critical illness";
      case PERIOPERATIVE -> "Around surgery";
      case OPEN_WOUND_INCONTINENCE -> "Open wound with incontinence";
      case PROLONGED_IMMOBILISATION -> "Prolonged immobilisation";
      case END_OF_LIFE_COMFORT -> "Comfort at the end of life";
      case OTHER -> "Other";
      case INCONTINENCE_CARE -> "Care of incontinence";
      case URINE_SAMPLING -> "Sampling of urine";
    };
  }
}
