package indwell.oracle;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.zone.ZoneOffsetTransition;

/** Facts of the calendar of a zone, from {@code java.time} alone. */
final class ZoneFacts {
  private ZoneFacts() {}

  /** The first instant of a date. */
  static Instant startOf(LocalDate date, ZoneId zone) {
    return date.atStartOfDay(zone).toInstant();
  }

  /** When clocks show the time; in a gap the first instant after it, in an overlap the earlier. */
  static Instant when(LocalDate date, LocalTime time, ZoneId zone) {
    LocalDateTime wanted = date.atTime(time);
    ZonedDateTime shown = wanted.atZone(zone).withEarlierOffsetAtOverlap();
    if (shown.toLocalDateTime().equals(wanted)) {
      return shown.toInstant();
    }
    ZoneOffsetTransition gap = zone.getRules().previousTransition(shown.toInstant().plusNanos(1));
    return gap.getInstant();
  }
}
