package indwell.domain.candidate;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * A date as surveillance numbers it from an admission: 1 is the first date in an inpatient ward, -1
 * the date before. There is no day 0.
 */
public record HospitalDay(int value) {
  public HospitalDay {
    if (value == 0) {
      throw new IllegalArgumentException("There is no hospital day 0");
    }
  }

  /**
   * The number of a date.
   *
   * @param admission the first date in an inpatient ward
   */
  public static HospitalDay of(LocalDate date, LocalDate admission) {
    int apart = (int) ChronoUnit.DAYS.between(admission, date);
    return new HospitalDay(apart < 0 ? apart : apart + 1);
  }
}
