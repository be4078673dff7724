package indwell.usecase;

import indwell.domain.event.Placing;
import indwell.domain.event.Ward;
import indwell.domain.rule.FlagHistory;
import indwell.domain.rule.RuleSettings;
import indwell.domain.surveillance.DwellTimes;
import indwell.domain.surveillance.OverdueHours;
import indwell.domain.surveillance.ReviewCompliance;
import indwell.domain.surveillance.StepCompliance;
import indwell.domain.time.DayNumber;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.PlacementEnd.How;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * How a ward, or the house, looked after catheters in a month: steps of insertions, reviews of
 * need, days in place and hours overdue. What happened while the patient was in the ward is the
 * ward's.
 */
public final class UnitPractice {
  private final ClinicalStore store;
  private final HouseBook book;

  public UnitPractice(ClinicalStore store, Facility facility) {
    this.store = store;
    this.book = new HouseBook(facility);
  }

  /** A month's practice. */
  public record Practice(
      StepCompliance steps, ReviewCompliance reviews, DwellTimes dwell, OverdueHours overdue) {}

  /**
   * Works it out.
   *
   * @param ward one ward, or every place of the house
   * @param now what would come later is left out
   */
  public Practice of(Optional<Ward> ward, YearMonth month, Instant now) {
    return store.read(state -> of(state, book.read(state), ward, month, now));
  }

  private static Practice of(
      Reading state, HouseRules house, Optional<Ward> ward, YearMonth month, Instant now) {
    FacilityCalendar calendar = house.calendar();
    Instant start = calendar.startOf(month.atDay(1));
    Instant end = calendar.startOf(month.plusMonths(1).atDay(1));
    Span counted = Span.between(start, end.isAfter(now) && now.isAfter(start) ? now : end);
    Sum sum = new Sum(house, ward, counted);
    PatientTimelines.forEach(
        state,
        state.patientsInWards(ward.map(Set::of).orElse(Set.of()), start, end),
        (patientId, events) -> sum.add(Timeline.asOf(events, now), now));
    return sum.practice();
  }

  /** Adds patients up. */
  private static final class Sum {
    private final HouseRules house;
    private final Optional<Ward> ward;
    private final Span month;
    private final List<Placing> insertions = new ArrayList<>();
    private final List<Integer> dwell = new ArrayList<>();
    private ReviewCompliance reviews = ReviewCompliance.NONE;
    private OverdueHours overdue = OverdueHours.NONE;

    Sum(HouseRules house, Optional<Ward> ward, Span month) {
      this.house = house;
      this.ward = ward;
      this.month = month;
    }

    Practice practice() {
      return new Practice(StepCompliance.of(insertions), reviews, new DwellTimes(dwell), overdue);
    }

    void add(Timeline timeline, Instant now) {
      for (Placement catheter : timeline.placements()) {
        if (month.holds(catheter.start())
            && isHere(timeline.wardBeforeDischargeAt(catheter.start()))) {
          insertions.add(catheter.placing());
        }
        catheter
            .end()
            .filter(end -> counts(timeline, catheter, end))
            .ifPresent(end -> dwell.add(days(catheter, end)));
      }
      reviews =
          reviews.plus(
              ReviewCompliance.of(
                  timeline, house.calendar(), month, (noon, date) -> dueBy(timeline, noon, date)));
      List<FlagHistory> flags = FlagHistory.upTo(SettingsTimes.spans(house, timeline), now);
      overdue = overdue.plus(OverdueHours.of(flags, timesHere(timeline)));
    }

    private boolean isHere(Timeline timeline, Instant at) {
      return isHere(timeline.wardAt(at));
    }

    private boolean isHere(Optional<WardStay> stay) {
      Optional<Ward> there = stay.map(WardStay::ward);
      return there.isPresent() && (ward.isEmpty() || ward.equals(there));
    }

    private boolean counts(Timeline timeline, Placement catheter, PlacementEnd end) {
      boolean known = end.how() == How.REMOVED || end.how() == How.EXCHANGED;
      return known
          && catheter.placing().countsForSurveillance()
          && month.holds(end.at())
          && isHere(timeline.wardBeforeDischargeAt(end.at()));
    }

    private int days(Placement catheter, PlacementEnd end) {
      return DayNumber.inPlace(catheter.start(), end.at(), house.calendar()).value();
    }

    private Optional<LocalTime> dueBy(Timeline timeline, Instant noon, LocalDate date) {
      Optional<Ward> there = timeline.wardAt(noon).map(WardStay::ward);
      RuleSettings settings = house.rules(there, noon);
      Instant due = house.calendar().at(date, settings.reviewDueBy());
      return Optional.of(settings.reviewDueBy()).filter(hour -> isHere(timeline, due));
    }

    private List<Span> timesHere(Timeline timeline) {
      return timeline.wards().stream()
          .filter(stay -> ward.isEmpty() || ward.equals(Optional.of(stay.ward())))
          .flatMap(stay -> stay.span().overlap(month).stream())
          .filter(time -> time.end().isPresent())
          .toList();
    }
  }
}
