package indwell.oracle;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/**
 * What arrived at one facility, and what is asked about it.
 *
 * @param countTime of the facility
 * @param wardCountTimes of wards that have their own
 * @param firstDate first date of the denominator
 * @param lastDate last date of the denominator, inclusive
 * @param arrivals event versions in the order of arrival, duplicates included
 * @param questions whose catheter days are asked for, and as of when
 */
record History(
    ZoneId zone,
    LocalTime countTime,
    Map<String, LocalTime> wardCountTimes,
    LocalDate firstDate,
    LocalDate lastDate,
    List<Fact> arrivals,
    List<Question> questions) {

  /** A patient's catheter days as of an instant. */
  record Question(String patient, Instant asOf) {}

  /** The same, asked of some patients only. */
  History askedOf(Predicate<String> patients) {
    return new History(
        zone,
        countTime,
        wardCountTimes,
        firstDate,
        lastDate,
        arrivals,
        questions.stream().filter(asked -> patients.test(asked.patient())).toList());
  }

  /** One event version a line, in the order of arrival, at local times. */
  @Override
  public String toString() {
    return "%s, counted at %s%s\n%s\n%s"
        .formatted(
            zone,
            countTime,
            wardCountTimes.entrySet().stream()
                .map(ward -> ", ward " + ward.getKey() + " at " + ward.getValue())
                .collect(Collectors.joining()),
            arrivals.stream().map(this::sentence).collect(Collectors.joining("\n")),
            questions.stream()
                .map(question -> "? " + question.patient() + " as of " + local(question.asOf()))
                .collect(Collectors.joining("\n")));
  }

  private String sentence(Fact fact) {
    return "%s:%s v%d  %s  %s %s  %s"
        .formatted(
            fact.source(),
            fact.eventId(),
            fact.version(),
            local(fact.at()),
            fact.patient(),
            fact.encounter(),
            fact.withdrawn() ? "withdrawn" : fact.deed().words());
  }

  private String local(Instant instant) {
    ZonedDateTime local = instant.atZone(zone);
    return local.toLocalDate() + " " + local.toLocalTime() + local.getOffset();
  }
}
