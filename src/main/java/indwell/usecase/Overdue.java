package indwell.usecase;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** The flags in force at a moment, of a ward or of the house. */
public final class Overdue {
  /** How far a question may look ahead: 72 hours. */
  public static final Duration LOOK_AHEAD = Duration.ofDays(3);

  private final ClinicalStore store;
  private final HouseBook book;

  public Overdue(ClinicalStore store, Facility facility) {
    this.store = store;
    this.book = new HouseBook(facility);
  }

  /**
   * One flag and whom it is about.
   *
   * @param ward where the patient is; of a removal that is not recorded, the discharging ward
   */
  public record Raised(FlagSpan flag, BusinessId patient, Optional<Ward> ward) {}

  /** The answer, flags by patient. */
  public record Flags(Instant asOf, List<Raised> raised, List<Remark> remarks) {}

  /**
   * Finds the flags. Ahead of now: those that will be in force if nothing is done until then.
   *
   * @param ward only patients there at that time
   */
  public Asked<Flags> at(Instant asOf, Optional<Ward> ward, Instant now) {
    Instant latest = now.plus(LOOK_AHEAD);
    if (asOf.isAfter(latest)) {
      return Asked.refuse(
          IssueCode.BAD_PARAMETER,
          "asOf",
          "The time " + asOf + " is too far ahead; expected a time at or before " + latest + ".");
    }
    return store.read(
        state ->
            ward.filter(one -> !known(state, one)).isPresent()
                ? Asked.refuse(
                    IssueCode.NOT_FOUND,
                    "ward",
                    "Ward "
                        + ward.orElseThrow().code()
                        + " is not known; expected a ward that an event named.")
                : Asked.answer(flags(state, asOf, ward)));
  }

  private boolean known(Reading state, Ward ward) {
    return state.knowsWard(ward) || book.read(state).describes(ward);
  }

  private Flags flags(Reading state, Instant asOf, Optional<Ward> ward) {
    HouseRules house = book.read(state);
    List<Raised> raised = new ArrayList<>();
    List<Remark> remarks = new ArrayList<>();
    PatientTimelines.forEach(
        state,
        ward.map(one -> state.patientsWithCatheter(asOf, one))
            .orElseGet(() -> state.patientsWithCatheter(asOf)),
        (patientId, events) -> {
          Timeline timeline = Timeline.asOf(events, asOf);
          List<Raised> own = raisedBy(house, timeline, asOf).stream().filter(in(ward)).toList();
          raised.addAll(own);
          if (!own.isEmpty() || ward.isEmpty() || ward.equals(wardAt(timeline, asOf))) {
            remarks.addAll(timeline.remarks());
          }
        });
    return new Flags(asOf, raised, Remarks.inOrder(remarks));
  }

  private static Predicate<Raised> in(Optional<Ward> ward) {
    return raised -> ward.isEmpty() || ward.equals(raised.ward());
  }

  private static List<Raised> raisedBy(HouseRules house, Timeline timeline, Instant asOf) {
    if (timeline.events().isEmpty()) {
      return List.of();
    }
    BusinessId patient = timeline.events().get(0).patient();
    Optional<Ward> ward = wardAt(timeline, asOf);
    Bedside bedside = new Bedside(timeline, house.rules(ward, asOf), house.calendar());
    return AllRules.inForce(bedside, asOf).stream()
        .map(flag -> new Raised(flag, patient, wardOf(flag, ward)))
        .toList();
  }

  private static Optional<Ward> wardOf(FlagSpan flag, Optional<Ward> patientIn) {
    return flag.code() == FlagCode.REMOVAL_NOT_RECORDED
        ? flag.catheter().end().flatMap(PlacementEnd::ward)
        : patientIn;
  }

  private static Optional<Ward> wardAt(Timeline timeline, Instant asOf) {
    return timeline.wardAt(asOf).map(WardStay::ward);
  }
}
