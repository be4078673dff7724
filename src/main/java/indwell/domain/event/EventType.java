package indwell.domain.event;

import java.util.Optional;

/**
 * The kinds of bedside event, with their wire code and their place among events of one instant
 * (contract, section 4): admitted, transferred, inserted, exchanged, all else, removed, discharged.
 */
public enum EventType {
  PATIENT_ADMITTED("patient-admitted", 0),
  PATIENT_TRANSFERRED("patient-transferred", 1),
  CATHETER_INSERTED("catheter-inserted", 2),
  CATHETER_EXCHANGED("catheter-exchanged", 3),
  NEED_REVIEWED("need-reviewed", 4),
  SECUREMENT_CHANGED("securement-changed", 4),
  CARE_CHECKED("care-checked", 4),
  URINE_MEASURED("urine-measured", 4),
  SPECIMEN_COLLECTED("specimen-collected", 4),
  WEIGHT_MEASURED("weight-measured", 4),
  CATHETER_REMOVED("catheter-removed", 5),
  PATIENT_DISCHARGED("patient-discharged", 6);

  private final String code;
  private final int rankWithinInstant;

  EventType(String code, int rankWithinInstant) {
    this.code = code;
    this.rankWithinInstant = rankWithinInstant;
  }

  /** The code in the event's {@code type} field. */
  public String code() {
    return code;
  }

  /** Events of one instant are read in ascending rank. */
  public int rankWithinInstant() {
    return rankWithinInstant;
  }

  /** The type with that wire code; empty when there is none. */
  public static Optional<EventType> ofCode(String code) {
    return Coded.find(values(), EventType::code, code);
  }
}
