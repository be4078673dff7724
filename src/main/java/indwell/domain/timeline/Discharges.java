package indwell.domain.timeline;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.ConflictTable.Cell;
import indwell.domain.timeline.Conflicts.DischargeAction;
import indwell.domain.timeline.Conflicts.DischargeBefore;
import indwell.domain.timeline.Conflicts.DischargeEvent;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * By which discharge the patient left each stay, while the timeline is read: of several at one
 * instant by the last, whatever the others said of the catheters.
 */
final class Discharges {
  private final Conflicts conflicts;
  private final TimelineReader.Remarks remarks;
  private final Whereabouts whereabouts;
  private final Map<BusinessId, Departing> lastOfStay = new HashMap<>();

  Discharges(Conflicts conflicts, TimelineReader.Remarks remarks, Whereabouts whereabouts) {
    this.conflicts = conflicts;
    this.remarks = remarks;
    this.whereabouts = whereabouts;
  }

  /** Takes a discharge in; empty when the patient did not leave by it. */
  Optional<Departing> take(Discharge discharge) {
    Optional<Departing> leftNow =
        Optional.ofNullable(lastOfStay.get(discharge.encounter()))
            .filter(earlier -> earlier.by().at().equals(discharge.at()));
    Optional<Departing> departing =
        switch (settle(leftNow, discharge)) {
          case SETTLE -> whereabouts.discharge(discharge);
          case OVERRULE -> leftNow.map(earlier -> whereabouts.overrule(earlier, discharge));
        };
    departing.ifPresent(one -> lastOfStay.put(discharge.encounter(), one));
    return departing;
  }

  private DischargeAction settle(Optional<Departing> leftNow, Discharge discharge) {
    Cell<DischargeAction> cell =
        conflicts
            .discharges()
            .cell(
                leftNow.isPresent() ? DischargeBefore.LEFT_NOW : DischargeBefore.NOT_LEFT_NOW,
                DischargeEvent.DISCHARGED);
    for (IssueCode code : cell.remarks()) {
      remarks.add(code, Doubt.ofMovement(code), discharge, leftNow.orElseThrow().by());
    }
    return cell.action();
  }
}
