package indwell.boot.demo;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads the times of the demo's text: {@code -6 09:00} is a local time on a date before today's,
 * {@code now-90m} and {@code hour-7h} lie before now and before the last full hour of the local
 * clock, {@code -8h} before a given moment. A local time that the clock skips is read as the same
 * length after the skip; one that it shows twice as the earlier.
 *
 * @param now the moment of loading
 * @param zone the facility's zone
 */
record DemoTimes(Instant now, ZoneId zone) {
  private static final DateTimeFormatter WITH_OFFSET =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ssXXX");
  private static final Pattern LOCAL = Pattern.compile("(-\\d+|0) (\\d\\d:\\d\\d)");
  private static final Pattern BEFORE = Pattern.compile("(now|hour|)(?:-(\\d+)([hm]))?");
  private static final Pattern ROW =
      Pattern.compile("(?:every (\\d+)([hm])|daily) from (.+?)(?: to (.+))?");

  /**
   * All moments of a {@code when}, ascending, none later than now: one, or those of a row.
   *
   * @throws IllegalArgumentException when it cannot be read
   */
  List<Instant> moments(String when) {
    Matcher row = ROW.matcher(when);
    if (!row.matches()) {
      return List.of(moment(when, now));
    }
    Instant last = row.group(4) == null ? now : moment(row.group(4), now);
    Instant first = moment(row.group(3), now);
    return row.group(1) == null
        ? daily(first, last)
        : steps(first, last, length(row.group(1), row.group(2)));
  }

  /**
   * One moment.
   *
   * @param expression the time, or a length before {@code own}
   * @param own the moment of the event that the expression stands in
   * @throws IllegalArgumentException when it cannot be read
   */
  Instant moment(String expression, Instant own) {
    Matcher local = LOCAL.matcher(expression);
    if (local.matches()) {
      return today()
          .toLocalDate()
          .plusDays(Integer.parseInt(local.group(1)))
          .atTime(LocalTime.parse(local.group(2)))
          .atZone(zone)
          .toInstant();
    }
    Matcher before = BEFORE.matcher(expression);
    if (expression.isEmpty() || !before.matches()) {
      throw new IllegalArgumentException(
          "Demo time '" + expression + "' cannot be read; expected one like '-6 09:00'.");
    }
    Instant base = base(before.group(1), own);
    return before.group(2) == null ? base : base.minus(length(before.group(2), before.group(3)));
  }

  /** The moment as RFC 3339 with the zone's offset. */
  String written(Instant moment) {
    return WITH_OFFSET.format(moment.atZone(zone));
  }

  private Instant base(String name, Instant own) {
    return switch (name) {
      case "now" -> now.truncatedTo(ChronoUnit.MINUTES);
      case "hour" -> today().truncatedTo(ChronoUnit.HOURS).toInstant();
      default -> own;
    };
  }

  private ZonedDateTime today() {
    return now.atZone(zone);
  }

  private static Duration length(String count, String unit) {
    long value = Long.parseLong(count);
    return unit.equals("h") ? Duration.ofHours(value) : Duration.ofMinutes(value);
  }

  private static List<Instant> steps(Instant first, Instant last, Duration step) {
    List<Instant> moments = new ArrayList<>();
    for (Instant at = first; !at.isAfter(last); at = at.plus(step)) {
      moments.add(at);
    }
    return moments;
  }

  private List<Instant> daily(Instant first, Instant last) {
    List<Instant> moments = new ArrayList<>();
    ZonedDateTime start = first.atZone(zone);
    for (int day = 0; !start.plusDays(day).toInstant().isAfter(last); day++) {
      moments.add(start.plusDays(day).toInstant());
    }
    return moments;
  }
}
