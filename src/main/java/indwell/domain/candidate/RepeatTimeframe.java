package indwell.domain.candidate;

import java.time.LocalDate;

/**
 * The repeat infection timeframe: 14 dates, the date of event being the first. Within it, and
 * within the stay, there is no new urinary event; what grows is added to the one there is.
 *
 * <p>Rule REPEAT-1. Source: CDC, NHSN FAQs: Miscellaneous (rules P6, P7; published); that all
 * urinary criteria share it, that it ends with the stay, and that date, device and ward of the
 * earlier event stay, from memory (rules P6, P8).
 */
public final class RepeatTimeframe {
  /** Dates, the date of event included. */
  public static final int DATES = 14;

  private RepeatTimeframe() {}

  /** The timeframe that an event opens. */
  public static DateRange from(LocalDate dateOfEvent) {
    return DateRange.ofDays(dateOfEvent, DATES);
  }
}
