package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeSet;

/** Patient days and urinary catheter days of wards, by date: the denominator of surveillance. */
public final class DeviceDays {
  /** The longest range that one question may span, in days. */
  public static final int MOST_DAYS = 3660;

  private final ClinicalStore store;
  private final HouseBook book;

  public DeviceDays(ClinicalStore store, Facility facility) {
    this.store = store;
    this.book = new HouseBook(facility);
  }

  /**
   * What is asked.
   *
   * @param ward one ward, or all that ever had an inpatient
   * @param start first local date
   * @param endInclusive last local date
   */
  public record Question(Optional<Ward> ward, LocalDate start, LocalDate endInclusive) {}

  /**
   * The counts by ward (code point) and date, every date there, zeros included.
   *
   * @param facts by ward and month the events that made somebody count there; empty unless asked
   *     for
   * @param remarks what is doubtful in these dates
   */
  public record Table(
      Question question,
      SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts,
      Map<Ward, Map<YearMonth, List<BedsideEvent>>> facts,
      List<Remark> remarks) {

    /** The events that made somebody count in a ward and month; none when nobody asked. */
    public List<BedsideEvent> factsOf(Ward ward, YearMonth month) {
      return facts.getOrDefault(ward, Map.of()).getOrDefault(month, List.of());
    }
  }

  /**
   * Counts.
   *
   * @param now a date whose count time has not come by then is refused
   */
  public Asked<Table> count(Question question, Instant now) {
    return store.read(state -> count(state, question, now, CountedFacts.none()));
  }

  /** Counts, and says of each ward and month by which events. */
  public Asked<Table> explain(Question question, Instant now) {
    return store.read(state -> count(state, question, now, CountedFacts.collecting()));
  }

  private Asked<Table> count(Reading state, Question question, Instant now, CountedFacts facts) {
    HouseRules house = book.read(state);
    if (question.ward().filter(ward -> !known(state, house, ward)).isPresent()) {
      return Asked.refuse(
          IssueCode.NOT_FOUND,
          "ward",
          "Ward "
              + question.ward().orElseThrow().code()
              + " is not known; expected a ward that an event named.");
    }
    Set<Ward> wards = wardsAsked(state, question);
    Optional<Asked<Table>> refused = checkRange(house, question, wards, now);
    return refused.orElseGet(() -> Asked.answer(countWards(state, house, question, wards, facts)));
  }

  private static boolean known(Reading state, HouseRules house, Ward ward) {
    return state.knowsWard(ward) || house.describes(ward);
  }

  private static Set<Ward> wardsAsked(Reading state, Question question) {
    Set<Ward> inpatient = new TreeSet<>(state.inpatientWards());
    question.ward().ifPresent(ward -> inpatient.retainAll(Set.of(ward)));
    return inpatient;
  }

  private static Optional<Asked<Table>> checkRange(
      HouseRules house, Question asked, Set<Ward> wards, Instant now) {
    LocalDate end = asked.endInclusive();
    if (end.isBefore(asked.start())) {
      return Optional.of(
          badEnd(
              "The end "
                  + end
                  + " is before the start "
                  + asked.start()
                  + "; expected a date at or after it."));
    }
    if (ChronoUnit.DAYS.between(asked.start(), end) >= MOST_DAYS) {
      return Optional.of(
          badEnd(
              "The range from "
                  + asked.start()
                  + " through "
                  + end
                  + " is too long; expected at most "
                  + MOST_DAYS
                  + " days."));
    }
    if (lastCount(house, end, asked.ward(), wards).isAfter(now)) {
      return Optional.of(
          badEnd(
              "The count time of "
                  + end
                  + " has not come; expected a date that has been counted."));
    }
    return Optional.empty();
  }

  private static Asked<Table> badEnd(String diagnostics) {
    return Asked.refuse(IssueCode.BAD_PARAMETER, "end", diagnostics);
  }

  /** When the last of the wards is counted on that date. */
  private static Instant lastCount(
      HouseRules house, LocalDate date, Optional<Ward> asked, Collection<Ward> wards) {
    LocalTime none =
        asked.map(ward -> house.countTime(ward, date)).orElse(house.facility().countTime());
    LocalTime latest =
        wards.stream()
            .map(ward -> house.countTime(ward, date))
            .max(Comparator.naturalOrder())
            .orElse(none);
    return house.calendar().at(date, latest);
  }

  private static Table countWards(
      Reading state, HouseRules house, Question asked, Set<Ward> wards, CountedFacts facts) {
    WardDayCount count =
        new WardDayCount(
            house.calendar(), house::countTime, wards, asked.start(), asked.endInclusive());
    List<Remark> remarks = new ArrayList<>();
    PatientTimelines.forEach(
        state,
        patientsConcerned(state, house, asked, wards),
        (patientId, events) -> {
          Timeline timeline = Timeline.of(events);
          count.add(timeline, facts.of(timeline));
          timeline.remarks().stream()
              .filter(remark -> within(house, asked, remark))
              .forEach(remarks::add);
        });
    return new Table(asked, count.counts(), facts.all(), Remarks.inOrder(remarks));
  }

  private static Set<String> patientsConcerned(
      Reading state, HouseRules house, Question asked, Set<Ward> wards) {
    if (wards.isEmpty()) {
      return Set.of();
    }
    // A date in a gap of the local clock may be counted on the next date, hence two days more.
    return state.patientsInWards(
        wards,
        house.calendar().startOf(asked.start()),
        house.calendar().startOf(asked.endInclusive().plusDays(2)));
  }

  private static boolean within(HouseRules house, Question asked, Remark remark) {
    LocalDate date = house.calendar().dateOf(remark.at());
    return !date.isBefore(asked.start()) && !date.isAfter(asked.endInclusive());
  }
}
