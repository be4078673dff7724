package indwell.domain.timeline;

import indwell.domain.event.BusinessId;
import indwell.domain.event.EventType;
import indwell.domain.event.Movement;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.time.Span;
import indwell.domain.timeline.ConflictTable.Cell;
import indwell.domain.timeline.Conflicts.OtherStay;
import indwell.domain.timeline.Conflicts.OtherStayAction;
import indwell.domain.timeline.Conflicts.OtherStayEvent;
import indwell.domain.timeline.Conflicts.PatientAt;
import indwell.domain.timeline.Conflicts.StayAction;
import indwell.domain.timeline.Conflicts.StayBefore;
import indwell.domain.timeline.Conflicts.StayEvent;
import indwell.domain.timeline.Conflicts.WardAction;
import indwell.domain.timeline.Conflicts.WardBefore;
import indwell.domain.timeline.Conflicts.WardEvent;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Which stays are open and in which ward the patient is, while the timeline is read. The patient is
 * in at most one ward at a time: the one of the latest arrival, until a discharge from its stay. A
 * stay that was left open by a transfer into another one does not take the patient back by itself.
 */
final class Whereabouts {
  private final Conflicts conflicts;
  private final TimelineReader.Remarks remarks;
  private final Map<BusinessId, OpenStay> stays = new LinkedHashMap<>();
  private final List<WardStay> finished = new ArrayList<>();

  private Optional<Here> here = Optional.empty();

  Whereabouts(Conflicts conflicts, TimelineReader.Remarks remarks) {
    this.conflicts = conflicts;
    this.remarks = remarks;
  }

  /** Where the patient is now: the arrival that brought them there, and its stay. */
  private record Here(OpenStay stay, Arrival arrival) {
    private WardStay until(Optional<Instant> end) {
      return new WardStay(
          arrival.ward(), arrival.inpatient(), new Span(arrival.at(), end), arrival.key());
    }
  }

  /** Takes an arrival in; false when it moved nobody. */
  boolean arrive(Arrival arrival) {
    boolean admission = arrival.type() == EventType.PATIENT_ADMITTED;
    Cell<StayAction> cell = settle(arrival, admission ? StayEvent.ADMITTED : StayEvent.TRANSFERRED);
    boolean moves = cell.action() == StayAction.BEGIN || cell.action() == StayAction.MOVE;
    if (moves && admission) {
      endOtherStays(arrival);
    }
    remark(cell.remarks(), arrival);
    if (moves) {
      move(
          stays.computeIfAbsent(arrival.encounter(), id -> new OpenStay(id, arrival.at())),
          arrival);
    }
    return moves;
  }

  /** Takes a discharge in; empty when the patient did not leave by it. */
  Optional<Departing> discharge(Discharge discharge) {
    Cell<StayAction> cell = settle(discharge, StayEvent.DISCHARGED);
    remark(cell.remarks(), discharge);
    boolean ends = cell.action() == StayAction.END || cell.action() == StayAction.END_AND_LEAVE;
    if (ends) {
      known(discharge).ifPresent(stay -> stay.end(discharge));
    }
    boolean leaves = cell.action() == StayAction.LEAVE || cell.action() == StayAction.END_AND_LEAVE;
    if (!leaves) {
      return Optional.empty();
    }
    Optional<Ward> ward = here.map(place -> place.arrival().ward());
    leave(discharge.at());
    return Optional.of(new Departing(discharge, ward, Optional.empty()));
  }

  /** Takes a discharge in that overrules the one of its instant by which the patient left. */
  Departing overrule(Departing earlier, Discharge discharge) {
    known(discharge).ifPresent(stay -> stay.end(discharge));
    return new Departing(discharge, earlier.ward(), Optional.of(earlier.by()));
  }

  /** Whether the patient is in any ward. */
  PatientAt patient() {
    return here.isPresent() ? PatientAt.IN_A_WARD : PatientAt.NOWHERE;
  }

  List<Stay> stays() {
    return stays.values().stream().map(stay -> stay.asStay(lastingOf(stay))).toList();
  }

  List<WardStay> wards() {
    List<WardStay> all = new ArrayList<>(finished);
    here.map(Whereabouts::lasting).ifPresent(all::add);
    return all;
  }

  private Optional<WardStay> lastingOf(OpenStay stay) {
    return here.filter(place -> place.stay() == stay).map(Whereabouts::lasting);
  }

  private static WardStay lasting(Here place) {
    return place.until(Optional.empty());
  }

  private Optional<OpenStay> known(Movement movement) {
    return Optional.ofNullable(stays.get(movement.encounter()));
  }

  private Cell<StayAction> settle(Movement movement, StayEvent event) {
    return conflicts.stays().cell(before(movement), event);
  }

  private StayBefore before(Movement movement) {
    Optional<OpenStay> known = known(movement);
    if (known.isEmpty()) {
      return here.isEmpty() ? StayBefore.NEW_NOWHERE : StayBefore.NEW_ELSEWHERE;
    }
    if (known.get().ended()) {
      return StayBefore.ENDED;
    }
    if (here.isEmpty()) {
      return StayBefore.OPEN_NOWHERE;
    }
    return here.get().stay() == known.get() ? StayBefore.OPEN_HERE : StayBefore.OPEN_ELSEWHERE;
  }

  private void endOtherStays(Arrival admission) {
    for (OpenStay stay : stays.values()) {
      if (stay.encounter().equals(admission.encounter())) {
        continue;
      }
      Cell<OtherStayAction> cell =
          conflicts
              .otherStays()
              .cell(
                  stay.ended() ? OtherStay.ENDED : OtherStay.OPEN,
                  OtherStayEvent.ADMITTED_ELSEWHERE);
      if (cell.action() == OtherStayAction.END) {
        stay.end(admission);
      }
      remark(cell.remarks(), admission);
    }
  }

  private void move(OpenStay stay, Arrival arrival) {
    Cell<WardAction> cell = conflicts.wards().cell(wardBefore(arrival.at()), WardEvent.MOVED);
    remark(cell.remarks(), arrival);
    switch (cell.action()) {
      case ENTER, CHANGE -> leave(arrival.at());
      case REPLACE -> here = Optional.empty();
    }
    here = Optional.of(new Here(stay, arrival));
  }

  private WardBefore wardBefore(Instant now) {
    return here.map(
            place ->
                place.arrival().at().equals(now) ? WardBefore.SINCE_NOW : WardBefore.SINCE_EARLIER)
        .orElse(WardBefore.NOWHERE);
  }

  private void leave(Instant at) {
    if (here.isPresent()) {
      WardStay done = here.get().until(Optional.of(at));
      here.get().stay().add(done);
      finished.add(done);
      here = Optional.empty();
    }
  }

  private void remark(List<IssueCode> codes, Movement movement) {
    for (IssueCode code : codes) {
      Movement[] others = other(code, movement).map(one -> new Movement[] {one}).orElse(NONE);
      remarks.add(code, Doubt.ofMovement(code), movement, others);
    }
  }

  private static final Movement[] NONE = {};

  /** The movement that it disagrees with, where there is one to name. */
  private Optional<? extends Movement> other(IssueCode code, Movement movement) {
    return switch (code) {
      case MOVEMENT_AFTER_STAY_ENDED -> known(movement).flatMap(OpenStay::endedBy);
      case STAYS_OVERLAP, MOVEMENTS_AT_ONE_INSTANT -> here.map(Here::arrival);
      default -> Optional.empty();
    };
  }
}
