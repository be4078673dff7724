package indwell.web.page;

import indwell.domain.time.FacilityCalendar;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** Puts times into words, in the zone of the facility. */
public final class Moments {
  private static final DateTimeFormatter CLOCK = pattern("HH:mm");
  private static final DateTimeFormatter THIS_YEAR = pattern("EEE d MMM HH:mm");
  private static final DateTimeFormatter OTHER_YEAR = pattern("d MMM uuuu HH:mm");
  private static final DateTimeFormatter WHOLE = pattern("EEEE d MMMM uuuu, HH:mm:ss");
  private static final DateTimeFormatter DATE = pattern("EEE d MMM uuuu");
  private static final DateTimeFormatter WHOLE_DATE = pattern("EEEE d MMMM uuuu");
  private static final DateTimeFormatter MONTH = pattern("MMMM uuuu");

  private final FacilityCalendar calendar;

  /** Words for times of that calendar. */
  public Moments(FacilityCalendar calendar) {
    this.calendar = calendar;
  }

  private static DateTimeFormatter pattern(String pattern) {
    return DateTimeFormatter.ofPattern(pattern, Locale.ENGLISH);
  }

  /** The calendar of the facility. */
  public FacilityCalendar calendar() {
    return calendar;
  }

  /** A time as a ward says it today: {@code today 08:00}, {@code Sun 22 Nov 09:10}. */
  public Moment near(Instant instant, Instant now) {
    OffsetDateTime local = calendar.local(instant);
    LocalDate today = calendar.dateOf(now);
    LocalDate date = local.toLocalDate();
    String clock = CLOCK.format(local);
    if (date.equals(today)) {
      return moment("today " + clock, local);
    }
    if (date.equals(today.minusDays(1))) {
      return moment("yesterday " + clock, local);
    }
    if (date.equals(today.plusDays(1))) {
      return moment("tomorrow " + clock, local);
    }
    return date.getYear() == today.getYear() ? moment(THIS_YEAR.format(local), local) : at(instant);
  }

  /** A time with its date and year. */
  public Moment at(Instant instant) {
    OffsetDateTime local = calendar.local(instant);
    return moment(OTHER_YEAR.format(local), local);
  }

  /** A date of the facility. */
  public Moment date(LocalDate date) {
    return new Moment(
        DATE.format(date), WHOLE_DATE.format(date) + " (" + zone() + ")", date.toString());
  }

  /** A month, {@code November 2026}. */
  public static String month(YearMonth month) {
    return MONTH.format(month);
  }

  private Moment moment(String text, OffsetDateTime local) {
    return new Moment(
        text,
        WHOLE.format(local) + " (" + zone() + ", UTC" + offset(local) + ")",
        DateTimeFormatter.ISO_OFFSET_DATE_TIME.format(local));
  }

  private static String offset(OffsetDateTime local) {
    return local.getOffset().getTotalSeconds() == 0 ? "+00:00" : local.getOffset().getId();
  }

  /** The name of the zone. */
  public String zone() {
    return calendar.zone().getId();
  }

  /** Whole minutes below an hour, whole hours below two days, whole days from there on. */
  public static String length(Duration duration) {
    if (duration.toHours() < 1) {
      return duration.toMinutes() + " min";
    }
    return duration.toHours() < 48 ? duration.toHours() + " h" : duration.toDays() + " days";
  }
}
