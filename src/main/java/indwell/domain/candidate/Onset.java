package indwell.domain.candidate;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.RuleId;
import java.time.LocalDate;
import java.util.List;

/**
 * Whether a date of event lies at the beginning of a stay or later: on hospital days 1 and 2
 * present on admission, from day 3 on healthcare-associated.
 *
 * <p>Rule POA-1. Source: CDC, NHSN FAQs: Miscellaneous (rule P4; published); NHSN manual chapter 2,
 * January 2019 (rule P5; published).
 */
public enum Onset {
  PRESENT_ON_ADMISSION("present-on-admission"),
  HEALTHCARE_ASSOCIATED("healthcare-associated"),
  /** Outside any inpatient stay. */
  OUTSIDE_STAY("outside-stay");

  private static final int LAST_DAY_PRESENT_ON_ADMISSION = 2;

  private final String code;

  Onset(String code) {
    this.code = code;
  }

  /** The word as answers carry it. */
  public String code() {
    return code;
  }

  /**
   * Of a date of event within a stay.
   *
   * @param admission the first inpatient date, not after the date of event
   * @param facts what the admission rests on
   */
  static Ruled<Onset> of(LocalDate dateOfEvent, LocalDate admission, List<BedsideEvent> facts) {
    int day = HospitalDay.of(dateOfEvent, admission).value();
    String number = "Hospital day " + day + ", counted from " + admission + ": ";
    return day <= LAST_DAY_PRESENT_ON_ADMISSION
        ? Ruled.of(
            PRESENT_ON_ADMISSION,
            RuleId.POA_1,
            number + "present on admission, as days 1 and 2 are.",
            facts)
        : Ruled.of(
            HEALTHCARE_ASSOCIATED,
            RuleId.POA_1,
            number + "healthcare-associated, as day 3 and later are.",
            facts);
  }

  /** Of a date of event that no inpatient stay holds. */
  static Ruled<Onset> outside() {
    return Ruled.of(
        OUTSIDE_STAY,
        RuleId.POA_1,
        "No inpatient stay holds the date of event, from two dates before the admission through the"
            + " date after the discharge; it is neither present on admission nor"
            + " healthcare-associated.");
  }
}
