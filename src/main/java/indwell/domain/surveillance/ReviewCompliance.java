package indwell.domain.surveillance;

import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;
import java.util.function.BiFunction;

/**
 * On how many dates the need for a catheter was reviewed, of those on which a review was due: the
 * dates after that of the insertion on which the catheter is in place at the hour by which reviews
 * are due. A review counts for the date on which it was made, at whatever hour.
 *
 * <p>Rule REVIEW-1. Source: AHRQ Toolkit for Reducing CAUTI, Appendix I (October 2015): indication
 * on each day of use (published); the hour is own.
 *
 * @param due catheters and dates
 * @param met those of them with a review
 */
public record ReviewCompliance(long due, long met) {
  /** Nothing was due. */
  public static final ReviewCompliance NONE = new ReviewCompliance(0, 0);

  /**
   * Counts one patient.
   *
   * @param month start inclusive, end exclusive
   * @param dueBy the hour by which reviews are due where the patient is then; empty where that is
   *     not counted
   */
  public static ReviewCompliance of(
      Timeline timeline,
      FacilityCalendar calendar,
      Span month,
      BiFunction<Instant, LocalDate, Optional<LocalTime>> dueBy) {
    ReviewCompliance sum = NONE;
    for (Placement catheter : timeline.placements()) {
      sum = sum.plus(of(catheter, calendar, month, dueBy));
    }
    return sum;
  }

  private static ReviewCompliance of(
      Placement catheter,
      FacilityCalendar calendar,
      Span month,
      BiFunction<Instant, LocalDate, Optional<LocalTime>> dueBy) {
    LocalDate first = later(calendar.dateOf(catheter.start()).plusDays(1), month, calendar);
    LocalDate end = calendar.dateOf(month.end().orElseThrow());
    long due = 0;
    long met = 0;
    for (LocalDate date = first; date.isBefore(end); date = date.plusDays(1)) {
      if (isDue(catheter, calendar, date, dueBy)) {
        due++;
        met += isReviewed(catheter, calendar, date) ? 1 : 0;
      }
    }
    return new ReviewCompliance(due, met);
  }

  private static LocalDate later(LocalDate date, Span month, FacilityCalendar calendar) {
    LocalDate start = calendar.dateOf(month.start());
    return date.isAfter(start) ? date : start;
  }

  private static boolean isDue(
      Placement catheter,
      FacilityCalendar calendar,
      LocalDate date,
      BiFunction<Instant, LocalDate, Optional<LocalTime>> dueBy) {
    Instant noon = calendar.at(date, LocalTime.NOON);
    return dueBy
        .apply(noon, date)
        .filter(hour -> catheter.inPlaceAt(calendar.at(date, hour)))
        .isPresent();
  }

  private static boolean isReviewed(Placement catheter, FacilityCalendar calendar, LocalDate date) {
    return catheter.facts(NeedReview.class).stream()
        .anyMatch(review -> calendar.dateOf(review.at()).equals(date));
  }

  /** Both sums. */
  public ReviewCompliance plus(ReviewCompliance other) {
    return new ReviewCompliance(due + other.due, met + other.met);
  }
}
