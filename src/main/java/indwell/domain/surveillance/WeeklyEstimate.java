package indwell.domain.surveillance;

import indwell.domain.timeline.DayCount;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * Catheter days of a month estimated from a weekly sample: {@code sampled catheter days / sampled
 * patient days * patient days of the month}.
 *
 * <p>Rule SAMPLE-1. Source: NHSN chapter 7, Table 2 (rules C21, C22, C24; from memory); the
 * threshold: Thompson 2015, Am J Infect Control 43:853-856 (published; rule C23).
 *
 * @param sampled sums of the sampled days
 * @param patientDays all patient days of the month, counted daily
 * @param weekdays that were sampled
 * @param deviceDays catheter days of the months that the average is taken over
 * @param months how many those are, 1 or more
 */
public record WeeklyEstimate(
    DayCount sampled, long patientDays, Set<DayOfWeek> weekdays, long deviceDays, int months) {
  /** Device days a month, on average, from which on a weekly sample is accurate (rule C22). */
  public static final long ENOUGH_DEVICE_DAYS = 75;

  private static final Set<DayOfWeek> WEEKEND = EnumSet.of(DayOfWeek.SATURDAY, DayOfWeek.SUNDAY);

  public WeeklyEstimate {
    weekdays = Set.copyOf(weekdays);
  }

  /** What is doubtful in an estimate; it is given all the same. */
  public enum Doubt {
    WEEKEND(
        "A Saturday or Sunday was sampled, which the rule forbids as least accurate (rule C21)."),
    FEW_DEVICE_DAYS(
        "The ward has fewer than 75 device days a month on average, too few for a weekly sample"
            + " (rule C22).");

    private final String sentence;

    Doubt(String sentence) {
      this.sentence = sentence;
    }

    /** The doubt as a sentence. */
    public String sentence() {
      return sentence;
    }
  }

  /** The estimate, rounded half up; empty without sampled patient days. */
  public Optional<BigDecimal> catheterDays(int decimals) {
    return SurveillanceRates.estimatedCatheterDays(
        sampled.catheterDays(), sampled.patientDays(), patientDays, decimals);
  }

  /** What is doubtful in it. */
  public Set<Doubt> doubts() {
    EnumSet<Doubt> doubts = EnumSet.noneOf(Doubt.class);
    if (weekdays.stream().anyMatch(WEEKEND::contains)) {
      doubts.add(Doubt.WEEKEND);
    }
    if (deviceDays < Math.multiplyExact(ENOUGH_DEVICE_DAYS, months)) {
      doubts.add(Doubt.FEW_DEVICE_DAYS);
    }
    return doubts;
  }
}
