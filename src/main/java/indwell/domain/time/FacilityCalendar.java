package indwell.domain.time;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.zone.ZoneOffsetTransition;
import java.time.zone.ZoneRules;

/**
 * The calendar of the facility: every date that Indwell speaks of is a date of this zone, whatever
 * offset an event was sent with.
 */
public record FacilityCalendar(ZoneId zone) {

  /** The local date on which the instant lies. */
  public LocalDate dateOf(Instant instant) {
    return LocalDate.ofInstant(instant, zone);
  }

  /** The first instant of a local date. */
  public Instant startOf(LocalDate date) {
    return at(date, LocalTime.MIDNIGHT);
  }

  /**
   * The instant at which local clocks show a time on a date. In a gap of the local clock it is the
   * first instant after the gap; in an overlap the earlier of the two.
   */
  public Instant at(LocalDate date, LocalTime time) {
    LocalDateTime local = LocalDateTime.of(date, time);
    ZoneRules rules = zone.getRules();
    ZoneOffsetTransition transition = rules.getTransition(local);
    if (transition != null && transition.isGap()) {
      return transition.getInstant();
    }
    return local.toInstant(rules.getValidOffsets(local).get(0));
  }

  /** The instant with the offset that the facility's clocks have then. */
  public OffsetDateTime local(Instant instant) {
    return OffsetDateTime.ofInstant(instant, zone);
  }
}
