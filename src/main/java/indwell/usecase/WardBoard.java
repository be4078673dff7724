package indwell.usecase;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.Ward;
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
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** What a ward reads: who has a catheter, since when, why, and what is due. */
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
   * One catheter.
   *
   * @param ward where the patient is; of a removal that is not recorded, the discharging ward
   * @param day days in place, the insertion day being day 1
   * @param indication the latest one stated
   * @param inPlace false when the patient has left and no removal is on record
   * @param flags those in force, the oldest first
   */
  public record Row(
      BusinessId patient,
      Optional<Ward> ward,
      Placement catheter,
      DayNumber day,
      StatedIndication indication,
      boolean inPlace,
      List<FlagSpan> flags) {}

  /** The board at a moment: what needs a hand first comes first. */
  public record Board(Instant computedAt, List<Row> rows) {}

  /** Draws the board. */
  public Board at(Instant now) {
    return store.read(
        state -> {
          HouseRules house = book.read(state);
          List<Row> rows = new ArrayList<>();
          PatientTimelines.forEach(
              state,
              state.patientsWithCatheter(now),
              (patientId, events) -> rows.addAll(rows(house, Timeline.asOf(events, now), now)));
          return new Board(now, inOrder(rows));
        });
  }

  private static List<Row> inOrder(List<Row> rows) {
    return rows.stream()
        .sorted(
            Comparator.comparing((Row row) -> -row.flags().size())
                .thenComparing(
                    row -> row.flags().isEmpty() ? Instant.MAX : row.flags().get(0).since())
                .thenComparing(row -> row.catheter().start())
                .thenComparing(Row::patient))
        .toList();
  }

  private List<Row> rows(HouseRules house, Timeline timeline, Instant now) {
    Optional<Ward> ward = timeline.wardAt(now).map(WardStay::ward);
    Bedside bedside = new Bedside(timeline, house.rules(ward, now), calendar);
    List<FlagSpan> flags = AllRules.inForce(bedside, now);
    return timeline.placements().stream()
        .map(catheter -> row(catheter, ward, flags, now))
        .filter(row -> row.inPlace() || !row.flags().isEmpty())
        .toList();
  }

  private Row row(Placement catheter, Optional<Ward> ward, List<FlagSpan> flags, Instant now) {
    boolean inPlace = catheter.inPlaceAt(now);
    return new Row(
        catheter.placedBy().patient(),
        inPlace ? ward : catheter.end().flatMap(PlacementEnd::ward),
        catheter,
        dayInPlace(catheter, now),
        latestIndication(catheter),
        inPlace,
        flags.stream()
            .filter(flag -> flag.catheter().equals(catheter))
            .sorted(Comparator.comparing(FlagSpan::since))
            .toList());
  }

  private DayNumber dayInPlace(Placement catheter, Instant now) {
    Instant last = catheter.end().map(PlacementEnd::at).orElse(now);
    long days = ChronoUnit.DAYS.between(calendar.dateOf(catheter.start()), calendar.dateOf(last));
    return new DayNumber((int) days + 1);
  }

  private static StatedIndication latestIndication(Placement catheter) {
    return catheter.facts(NeedReview.class).stream()
        .flatMap(review -> review.indication().stream())
        .reduce((earlier, later) -> later)
        .orElse(catheter.placing().indication());
  }
}
