package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Placing;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.PlacementEnd.How;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which catheters are in place or rest, while the timeline is read. */
final class CathetersInPlace {
  private final TimelineReader.Remarks remarks;
  private final List<OpenPlacement> all = new ArrayList<>();
  private final Map<CatheterId, OpenPlacement> open = new HashMap<>();

  CathetersInPlace(TimelineReader.Remarks remarks) {
    this.remarks = remarks;
  }

  /** Puts a catheter in place; false when one of that id is in place already. */
  boolean place(BedsideEvent by, Placing placing) {
    OpenPlacement known = open.get(placing.catheter());
    if (known != null && !known.resting()) {
      remarks.add(
          IssueCode.INSERTION_OF_CATHETER_IN_PLACE,
          "Catheter "
              + placing.catheter().value()
              + " was in place already; this insertion changes nothing.",
          by,
          known.placedBy());
      return false;
    }
    if (known != null) {
      known.end(How.PUT_IN_ANEW, by, Optional.empty());
    }
    OpenPlacement placement = new OpenPlacement(by, placing);
    all.add(placement);
    open.put(placing.catheter(), placement);
    return true;
  }

  boolean remove(Removal removal) {
    return takeOut(removal, How.REMOVED, IssueCode.REMOVAL_OF_CATHETER_NOT_IN_PLACE, "removed");
  }

  /** Takes the old catheter of an exchange out; false when it was not in place. */
  boolean takeOut(Exchange exchange) {
    return takeOut(
        exchange, How.EXCHANGED, IssueCode.EXCHANGE_OF_CATHETER_NOT_IN_PLACE, "exchanged");
  }

  private boolean takeOut(CatheterEvent by, How how, IssueCode notInPlace, String verb) {
    recordLateRemoval(by);
    OpenPlacement known = open.remove(by.catheter());
    if (known == null) {
      remarks.add(
          notInPlace,
          "Catheter " + by.catheter().value() + " was " + verb + " but was not in place then.",
          by);
      return false;
    }
    known.end(how, by, Optional.empty());
    return true;
  }

  /** A discharge ended the time of this catheter earlier: now its removal is on record. */
  private void recordLateRemoval(CatheterEvent by) {
    for (OpenPlacement placement : all) {
      if (placement.catheter().equals(by.catheter())) {
        placement.recordLate(by);
      }
    }
  }

  boolean fact(CatheterEvent fact) {
    OpenPlacement known = open.get(fact.catheter());
    if (known != null) {
      known.add(fact);
      return true;
    }
    return expectInPlace(fact.catheter(), fact);
  }

  /** Remarks that an event names a catheter that is not in place; false in that case. */
  boolean expectInPlace(CatheterId catheter, BedsideEvent event) {
    if (open.containsKey(catheter)) {
      return true;
    }
    remarks.add(
        IssueCode.FACT_OF_CATHETER_NOT_IN_PLACE,
        "Catheter "
            + catheter.value()
            + " was not in place at the time of this "
            + event.type().code()
            + " event, which changes no clock.",
        event);
    return false;
  }

  /** The patient leaves: with the catheters on purpose, or their time ends here. */
  void discharge(Discharge discharge, Optional<Ward> ward) {
    boolean onPurpose = discharge.withCatheter().orElse(false);
    for (OpenPlacement placement : List.copyOf(open.values())) {
      if (placement.resting()) {
        continue;
      }
      if (onPurpose) {
        placement.rest(discharge.at());
      } else {
        placement.end(How.DISCHARGED, discharge, ward);
        open.remove(placement.catheter());
      }
    }
  }

  /** The patient is admitted again: what rested is in place from then on. */
  void resume(Instant at) {
    open.values().forEach(placement -> placement.resume(at));
  }

  List<Placement> placements() {
    return all.stream().map(OpenPlacement::asPlacement).toList();
  }
}
