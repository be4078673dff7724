package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.DayNumber;
import java.time.LocalDate;
import java.util.Optional;

/**
 * One calendar date of a stay, as the eligibility count sees it.
 *
 * @param date local date of the facility
 * @param number the place in the run of catheter days; empty on a day that the count does not reach
 * @param catheterPresent whether a catheter that counts was there in any portion of the date
 * @param eligible whether a device-associated event dated here may be attributed (a candidate, not
 *     a diagnosis)
 * @param ward where an event dated here is attributed
 */
public record CatheterDay(
    LocalDate date,
    Optional<DayNumber> number,
    boolean catheterPresent,
    boolean eligible,
    Optional<Ward> ward) {}
