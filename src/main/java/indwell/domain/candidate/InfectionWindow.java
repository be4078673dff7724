package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.time.LocalDate;
import java.util.Optional;

/**
 * The infection window period: the date on which the urine culture was collected, three dates
 * before and three after, reaching back no further than two dates before an admission.
 *
 * <p>Rule WINDOW-1. Source: CDC, NHSN FAQs: Miscellaneous (rules P1, P2; published); that it is the
 * urine culture that sets it, from memory.
 */
public final class InfectionWindow {
  /** Dates on either side of the culture. */
  public static final int DATES_AROUND = 3;

  /** Dates before an admission that are still looked at. */
  public static final int DATES_BEFORE_ADMISSION = 2;

  private InfectionWindow() {}

  /**
   * The window.
   *
   * @param admission the first inpatient date of the stay that the culture belongs to; the culture
   *     is no earlier than two dates before it
   */
  public static Ruled<DateRange> around(LocalDate collectedOn, Optional<LocalDate> admission) {
    LocalDate start = collectedOn.minusDays(DATES_AROUND);
    Optional<LocalDate> cut =
        admission.map(date -> date.minusDays(DATES_BEFORE_ADMISSION)).filter(start::isBefore);
    DateRange window = new DateRange(cut.orElse(start), collectedOn.plusDays(DATES_AROUND));
    String why =
        cut.isPresent()
            ? "three dates after the culture, and before it no further back than two dates before"
                + " the admission of "
                + admission.orElseThrow()
            : "the culture's date, three before and three after";
    return Ruled.of(
        window, RuleId.WINDOW_1, "Infection window period " + window.words() + ": " + why + ".");
  }
}
