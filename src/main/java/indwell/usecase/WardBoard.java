package indwell.usecase;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.time.DayNumber;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;

/** What a ward reads: who has a catheter, since when, why, what is due and what soon will be. */
public final class WardBoard {
  private final ClinicalStore store;
  private final FacilityCalendar calendar;
  private final HouseBook book;

  public WardBoard(ClinicalStore store, Facility facility) {
    this.store = store;
    this.calendar = facility.calendar();
    this.book = new HouseBook(facility);
  }

  /**
   * What is asked.
   *
   * @param ward one ward, or the whole house
   * @param ahead how far to look ahead: 0 to {@link Overdue#LOOK_AHEAD}
   */
  public record Question(Optional<Ward> ward, Duration ahead) {
    public Question {
      if (ahead.isNegative() || ahead.compareTo(Overdue.LOOK_AHEAD) > 0) {
        throw new IllegalArgumentException("Cannot look ahead by " + ahead);
      }
    }
  }

  /**
   * One catheter.
   *
   * @param ward where the patient is; of a removal that is not recorded, the discharging ward
   * @param day days in place, the insertion day being day 1
   * @param indication the latest one stated
   * @param inPlace false when the patient has left and no removal is on record
   * @param flags those in force, the oldest first
   * @param coming those that will be in force at the end of the look ahead if nothing is done until
   *     then, the first to come first
   */
  public record Row(
      BusinessId patient,
      Optional<Ward> ward,
      Placement catheter,
      DayNumber day,
      StatedIndication indication,
      boolean inPlace,
      List<FlagSpan> flags,
      List<FlagSpan> coming) {}

  /**
   * The board at a moment: what needs a hand first comes first ({@link RoundOrder}).
   *
   * @param horizon end of the look ahead
   * @param wards every ward that ever had an inpatient, and those of the rows, by code point
   */
  public record Board(
      Instant computedAt, Instant horizon, NavigableSet<Ward> wards, List<Row> rows) {}

  /** Draws the board; a ward that no event named and that never described itself is refused. */
  public Asked<Board> at(Question question, Instant now) {
    return store.read(
        state -> {
          HouseRules house = book.read(state);
          Optional<Ward> unknown =
              question.ward().filter(one -> !state.knowsWard(one) && !house.describes(one));
          return unknown.isPresent()
              ? Asked.refuse(
                  IssueCode.NOT_FOUND,
                  "ward",
                  "Ward "
                      + unknown.get().code()
                      + " is not known; expected a ward that an event named.")
              : Asked.answer(board(state, house, question, now));
        });
  }

  private Board board(Reading state, HouseRules house, Question question, Instant now) {
    Instant horizon = now.plus(question.ahead());
    List<Row> rows = new ArrayList<>();
    PatientTimelines.forEach(
        state,
        state.patientsWithCatheter(now),
        (patientId, events) -> rows.addAll(rows(house, Timeline.asOf(events, now), now, horizon)));
    NavigableSet<Ward> wards = new TreeSet<>(state.inpatientWards());
    rows.forEach(row -> row.ward().ifPresent(wards::add));
    List<Row> asked =
        rows.stream()
            .filter(row -> question.ward().isEmpty() || question.ward().equals(row.ward()))
            .sorted(RoundOrder.FIRST_HAND_FIRST)
            .toList();
    return new Board(now, horizon, wards, asked);
  }

  private List<Row> rows(HouseRules house, Timeline timeline, Instant now, Instant horizon) {
    Optional<Ward> ward = timeline.wardAt(now).map(WardStay::ward);
    List<FlagSpan> flags = inForce(house, timeline, ward, now);
    List<FlagSpan> later = inForce(house, timeline, ward, horizon);
    return timeline.placements().stream()
        .map(catheter -> row(catheter, ward, flags, later, now))
        .filter(row -> row.inPlace() || !row.flags().isEmpty())
        .toList();
  }

  private List<FlagSpan> inForce(
      HouseRules house, Timeline timeline, Optional<Ward> ward, Instant at) {
    return AllRules.inForce(new Bedside(timeline, house.rules(ward, at), calendar), at);
  }

  private Row row(
      Placement catheter,
      Optional<Ward> ward,
      List<FlagSpan> flags,
      List<FlagSpan> later,
      Instant now) {
    boolean inPlace = catheter.inPlaceAt(now);
    List<FlagSpan> own = about(catheter, flags);
    return new Row(
        catheter.placedBy().patient(),
        inPlace ? ward : catheter.end().flatMap(PlacementEnd::ward),
        catheter,
        dayInPlace(catheter, now),
        latestIndication(catheter),
        inPlace,
        own,
        about(catheter, later).stream()
            .filter(flag -> own.stream().noneMatch(had -> had.code() == flag.code()))
            .toList());
  }

  private static List<FlagSpan> about(Placement catheter, List<FlagSpan> flags) {
    return flags.stream()
        .filter(flag -> flag.catheter().equals(catheter))
        .sorted(Comparator.comparing(FlagSpan::since).thenComparing(FlagSpan::code))
        .toList();
  }

  private DayNumber dayInPlace(Placement catheter, Instant now) {
    Instant last = catheter.end().map(PlacementEnd::at).orElse(now);
    return DayNumber.inPlace(catheter.start(), last, calendar);
  }

  private static StatedIndication latestIndication(Placement catheter) {
    return catheter.facts(NeedReview.class).stream()
        .flatMap(review -> review.indication().stream())
        .reduce((earlier, later) -> later)
        .orElse(catheter.placing().indication());
  }
}
