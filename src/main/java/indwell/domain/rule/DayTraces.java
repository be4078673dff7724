package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.time.DayNumber;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Why each date of a stay has its day number, is eligible or not, and is attributed where it is:
 * for each of the three the rule, a sentence and the events that were used.
 */
public final class DayTraces {
  private final Timeline timeline;
  private final Stay stay;
  private final FacilityCalendar calendar;
  private final EligibilityCount count;

  /** The traces of a stay's days, as {@link EligibilityCount#days} gives them. */
  public DayTraces(Timeline timeline, Stay stay, FacilityCalendar calendar) {
    this.timeline = timeline;
    this.stay = stay;
    this.calendar = calendar;
    this.count = new EligibilityCount(timeline, calendar);
  }

  /** For each day in turn: why the number, why eligible or not, why the ward. */
  public List<List<Trace>> of(List<CatheterDay> days) {
    List<List<Trace>> traces = new ArrayList<>();
    Optional<DayNumber> yesterday = Optional.empty();
    boolean counted = false;
    for (CatheterDay day : days) {
      traces.add(List.of(number(day, counted), eligible(day, yesterday), ward(day)));
      yesterday = day.number();
      counted |= day.number().isPresent();
    }
    return traces;
  }

  private Trace number(CatheterDay day, boolean countedBefore) {
    if (day.number().isEmpty()) {
      return new Trace(RuleId.ELI_1, noNumber(day), List.of());
    }
    DayNumber number = day.number().get();
    List<BedsideEvent> facts = catheterFacts(day.date());
    if (!number.equals(DayNumber.FIRST)) {
      String sentence = "Day " + number.value() + ": the count goes on from the date before.";
      return new Trace(RuleId.ELI_2, sentence, facts);
    }
    if (countedBefore) {
      String sentence = "Day 1: a full date without a catheter lies before, so it starts anew.";
      return new Trace(RuleId.ELI_2, sentence, facts);
    }
    return new Trace(
        RuleId.ELI_1,
        "Day 1: the first inpatient date of the stay with a catheter that counts.",
        Stream.concat(facts.stream(), firstInpatient().stream()).toList());
  }

  private String noNumber(CatheterDay day) {
    boolean begun =
        count.firstInpatientDate(stay).filter(first -> !day.date().isBefore(first)).isPresent();
    return begun
        ? "No day of the count: no catheter that counts was in place on this date."
        : "No day of the count: the stay had no inpatient date yet.";
  }

  private Trace eligible(CatheterDay day, Optional<DayNumber> yesterday) {
    if (day.number().isPresent()) {
      String number = "day " + day.number().get().value();
      return new Trace(
          RuleId.ELI_1,
          day.eligible()
              ? "Eligible: " + number + " is day 3 or later."
              : "Not eligible: " + number + " comes before day 3.",
          catheterFacts(day.date()));
    }
    if (day.eligible()) {
      return new Trace(
          RuleId.ELI_3,
          "Eligible: the date before was day " + yesterday.orElseThrow().value() + ", its last.",
          catheterFacts(day.date().minusDays(1)));
    }
    return new Trace(
        RuleId.ELI_3,
        "Not eligible: neither this date nor the one before is day 3 or later.",
        List.of());
  }

  private Trace ward(CatheterDay day) {
    Optional<WardStay> by = count.attributedBy(day.date(), stay);
    return new Trace(
        RuleId.ATT_1,
        by.map(ward -> "Ward " + ward.ward().code() + ": " + where(day.date()))
            .orElse("No ward: the patient was in no inpatient ward by which to attribute it."),
        by.flatMap(ward -> event(ward.by())).stream().toList());
  }

  private String where(LocalDate date) {
    boolean first = count.firstInpatientDate(stay).equals(Optional.of(date));
    return first
        ? "the first inpatient ward of this first inpatient date."
        : "the first inpatient ward of the date before.";
  }

  /** What put the catheters of that date in, and what ended them by it. */
  private List<BedsideEvent> catheterFacts(LocalDate date) {
    return count.placementsOn(date, stay).stream()
        .flatMap(
            placement -> Stream.concat(Stream.of(placement.placedBy()), endBy(placement, date)))
        .distinct()
        .toList();
  }

  private Stream<BedsideEvent> endBy(Placement placement, LocalDate date) {
    return placement.end().stream()
        .filter(end -> !calendar.dateOf(end.at()).isAfter(date))
        .map(PlacementEnd::by);
  }

  private Optional<BedsideEvent> firstInpatient() {
    return stay.firstInpatient().map(WardStay::by).flatMap(this::event);
  }

  private Optional<BedsideEvent> event(EventKey key) {
    return timeline.events().stream().filter(event -> event.key().equals(key)).findFirst();
  }
}
