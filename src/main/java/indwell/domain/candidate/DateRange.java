package indwell.domain.candidate;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * Calendar dates of the facility in a row, both ends included; never empty.
 *
 * @param start the first date
 * @param endInclusive the last date, not before the first
 */
public record DateRange(LocalDate start, LocalDate endInclusive) {
  public DateRange {
    if (endInclusive.isBefore(start)) {
      throw new IllegalArgumentException(
          "Dates end " + endInclusive + " before they start " + start);
    }
  }

  /** So many dates from the start on, 1 or more. */
  public static DateRange ofDays(LocalDate start, int days) {
    return new DateRange(start, start.plusDays(days - 1L));
  }

  /** Whether the date is one of them. */
  public boolean holds(LocalDate date) {
    return !date.isBefore(start) && !date.isAfter(endInclusive);
  }

  /** How many dates they are. */
  public long days() {
    return ChronoUnit.DAYS.between(start, endInclusive) + 1;
  }

  /** As a sentence writes them: {@code 2024-06-02 to 2024-06-08}. */
  public String words() {
    return start + " to " + endInclusive;
  }
}
