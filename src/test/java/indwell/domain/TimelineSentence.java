package indwell.domain;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.CountedTime;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.domain.timeline.WardDayLedger;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/**
 * One patient's history as text, one event a line ({@link EventLine} has the words), and the
 * answers to it as text, so that a test reads as a situation and asserts the whole answer.
 */
public final class TimelineSentence {

  private final FacilityCalendar calendar;
  private final List<BedsideEvent> events;
  private final RuleSettings settings;

  private TimelineSentence(
      FacilityCalendar calendar, List<BedsideEvent> events, RuleSettings settings) {
    this.calendar = calendar;
    this.events = events;
    this.settings = settings;
  }

  /** Times without an offset are UTC. */
  public static TimelineSentence of(String lines) {
    return in("UTC", lines);
  }

  /** Times without an offset are local times of that zone. */
  public static TimelineSentence in(String zone, String lines) {
    FacilityCalendar calendar = new FacilityCalendar(ZoneId.of(zone));
    List<BedsideEvent> events = new ArrayList<>();
    lines
        .lines()
        .map(String::strip)
        .filter(line -> !line.isEmpty() && !line.startsWith("#"))
        .forEach(line -> events.add(EventLine.read(line, events.size() + 1, calendar)));
    return new TimelineSentence(calendar, events, RuleSettings.DEFAULTS);
  }

  /** The same history under other limits. */
  public TimelineSentence with(RuleSettings other) {
    return new TimelineSentence(calendar, events, other);
  }

  public List<BedsideEvent> events() {
    return events;
  }

  public FacilityCalendar calendar() {
    return calendar;
  }

  /** Everything, read. */
  public Timeline timeline() {
    return Timeline.of(events);
  }

  /** What had happened by then, read. */
  public Timeline asOf(String time) {
    return Timeline.asOf(events, instant(time));
  }

  /** The instant that a time of this notation means. */
  public Instant instant(String time) {
    return EventLine.instant(time, calendar);
  }

  /** The days of the latest stay begun by then, each a line as {@link #line(CatheterDay)}. */
  public String days(String asOf) {
    Timeline timeline = asOf(asOf);
    return timeline
        .latestStayBegunBy(instant(asOf))
        .map(
            stay ->
                new EligibilityCount(timeline, calendar)
                    .days(stay, instant(asOf)).stream()
                        .map(TimelineSentence::line)
                        .collect(Collectors.joining("\n")))
        .orElse("");
  }

  /** {@code 06-03 day 3 present eligible W1}; a dash where there is none. */
  private static String line(CatheterDay day) {
    return String.join(
        " ",
        day.date().toString().substring(5),
        day.number().map(number -> "day " + number.value()).orElse("-"),
        day.catheterPresent() ? "present" : "-",
        day.eligible() ? "eligible" : "-",
        day.ward().map(ward -> ward.code()).orElse("-"));
  }

  /** The eligible dates among them, as {@code 06-03 06-04}. */
  public String eligibleDates(String asOf) {
    return datesWith(asOf, CatheterDay::eligible);
  }

  private String datesWith(String asOf, Predicate<CatheterDay> condition) {
    Timeline timeline = asOf(asOf);
    Optional<Stay> stay = timeline.latestStayBegunBy(instant(asOf));
    return stay.stream()
        .flatMap(one -> new EligibilityCount(timeline, calendar).days(one, instant(asOf)).stream())
        .filter(condition)
        .map(day -> day.date().toString().substring(5))
        .collect(Collectors.joining(" "));
  }

  /** Where events of that date are attributed; a dash for nowhere or a date that is no day. */
  public String wardOf(String date, String asOf) {
    return days(asOf)
        .lines()
        .filter(line -> line.startsWith(date + " "))
        .map(line -> line.substring(line.lastIndexOf(' ') + 1))
        .findFirst()
        .orElse("-");
  }

  /** The rows of a ward, each {@code 06-01 1 patient 1 catheter}; both ways to count agree. */
  public String wardDays(String ward, String countTime, String start, String endInclusive) {
    WardDayCount count =
        new WardDayCount(
            calendar,
            (any, date) -> LocalTime.parse(countTime),
            List.of(new Ward(ward)),
            EventLine.date(start),
            EventLine.date(endInclusive));
    count.add(timeline());
    WardDayLedger ledger =
        new WardDayLedger(
            calendar,
            (any, date) -> LocalTime.parse(countTime),
            List.of(new Ward(ward)),
            EventLine.date(start),
            EventLine.date(endInclusive));
    CountedTime.of(timeline()).forEach(ledger::take);
    assertThat(ledger.counts()).isEqualTo(count.counts());
    return count.counts().get(new Ward(ward)).entrySet().stream()
        .map(row -> line(row.getKey(), row.getValue()))
        .collect(Collectors.joining("\n"));
  }

  private static String line(LocalDate date, DayCount count) {
    return date.toString().substring(5)
        + " patients "
        + count.patientDays()
        + " catheters "
        + count.catheterDays();
  }

  /** The flags in force, each {@code code catheter since 06-02 12:00}. */
  public String flags(String asOf) {
    return inForce(asOf).stream().map(this::line).collect(Collectors.joining("\n"));
  }

  /** The flags of one code in force. */
  public String flags(FlagCode code, String asOf) {
    return inForce(asOf).stream()
        .filter(span -> span.code() == code)
        .map(span -> span.catheter().catheter().value() + " since " + local(span.since()))
        .collect(Collectors.joining("\n"));
  }

  /** The flags in force, with their traces. */
  public List<FlagSpan> inForce(String asOf) {
    return AllRules.inForce(new Bedside(asOf(asOf), settings, calendar), instant(asOf));
  }

  private String line(FlagSpan span) {
    return span.code().code()
        + " "
        + span.catheter().catheter().value()
        + " since "
        + local(span.since());
  }

  /**
   * Every time in which a flag of that code holds, as {@code c1 from 06-02 12:00 to 06-03 09:00}.
   */
  public String history(FlagCode code) {
    return AllRules.spans(new Bedside(timeline(), settings, calendar)).stream()
        .filter(span -> span.code() == code)
        .map(
            span ->
                span.catheter().catheter().value()
                    + " from "
                    + local(span.since())
                    + span.until().map(end -> " to " + local(end)).orElse(""))
        .collect(Collectors.joining("\n"));
  }

  /** The codes of the remarks, in order. */
  public String remarks() {
    return timeline().remarks().stream()
        .map(Remark::code)
        .map(Enum::name)
        .collect(Collectors.joining("\n"));
  }

  /** {@code 06-02 12:00}, local. */
  private String local(Instant instant) {
    return calendar.local(instant).toLocalDateTime().toString().substring(5).replace('T', ' ');
  }
}
