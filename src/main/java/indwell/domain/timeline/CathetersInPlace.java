package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Placing;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.ConflictTable.Cell;
import indwell.domain.timeline.Conflicts.CatheterAction;
import indwell.domain.timeline.Conflicts.CatheterBefore;
import indwell.domain.timeline.Conflicts.CatheterHappening;
import indwell.domain.timeline.Conflicts.DepartureAction;
import indwell.domain.timeline.Conflicts.DepartureEvent;
import indwell.domain.timeline.Conflicts.LeftInAction;
import indwell.domain.timeline.Conflicts.PatientMove;
import indwell.domain.timeline.PlacementEnd.How;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which catheters are in place or rest, while the timeline is read. */
final class CathetersInPlace {
  private final Conflicts conflicts;
  private final TimelineReader.Remarks remarks;
  private final List<OpenPlacement> all = new ArrayList<>();

  /** The last placement of each catheter, ended or not. */
  private final Map<CatheterId, OpenPlacement> last = new LinkedHashMap<>();

  CathetersInPlace(Conflicts conflicts, TimelineReader.Remarks remarks) {
    this.conflicts = conflicts;
    this.remarks = remarks;
  }

  /** Puts a catheter in place, unless one of that id is in place already. */
  void insert(BedsideEvent by, Placing placing) {
    place(CatheterHappening.INSERTED, by, placing);
  }

  void remove(Removal removal) {
    takeOut(CatheterHappening.REMOVED, How.REMOVED, removal);
  }

  /** Takes the old catheter of an exchange out. */
  void takeOut(Exchange exchange) {
    takeOut(CatheterHappening.EXCHANGED_OUT, How.EXCHANGED, exchange);
  }

  /** Puts the replacement of an exchange in. */
  void putIn(Exchange exchange) {
    place(CatheterHappening.EXCHANGED_IN, exchange, exchange.replacement());
  }

  /** Sets the clocks of the catheter that was looked after. */
  void fact(CatheterEvent fact) {
    if (lookAfter(fact.catheter(), fact) == CatheterAction.ATTACH) {
      known(fact.catheter()).ifPresent(placement -> placement.add(fact));
    }
  }

  /** Remarks that an event names a catheter that is not in place. */
  void expectInPlace(CatheterId catheter, BedsideEvent event) {
    lookAfter(catheter, event);
  }

  private CatheterAction lookAfter(CatheterId catheter, BedsideEvent event) {
    return settle(catheter, CatheterHappening.LOOKED_AFTER, event);
  }

  /** The patient leaves: with the catheters on purpose, or their time ends here. */
  void discharge(Departing departing) {
    Discharge discharge = departing.by();
    departing.overruled().ifPresent(one -> all.forEach(placement -> placement.takeBack(one)));
    PatientMove how =
        discharge.withCatheter().orElse(false)
            ? PatientMove.DISCHARGED_WITH
            : PatientMove.DISCHARGED;
    for (OpenPlacement placement : last.values()) {
      switch (conflicts.leftIn().cell(placement.state(), how).action()) {
        case END -> placement.end(How.DISCHARGED, discharge, departing.ward());
        case REST -> placement.rest(discharge);
        case RESUME, NOTHING -> {}
      }
    }
  }

  /** The patient is in a ward again: what rested is in place from then on. */
  void resume(Instant at) {
    for (OpenPlacement placement : last.values()) {
      LeftInAction action =
          conflicts.leftIn().cell(placement.state(), PatientMove.PATIENT_ARRIVED).action();
      if (action == LeftInAction.RESUME) {
        placement.resume(at);
      }
    }
  }

  List<Placement> placements() {
    return all.stream().map(OpenPlacement::asPlacement).toList();
  }

  private void place(CatheterHappening happening, BedsideEvent by, Placing placing) {
    switch (settle(placing.catheter(), happening, by)) {
      case PLACE -> putIn(by, placing);
      case PLACE_ANEW -> {
        known(placing.catheter()).ifPresent(one -> one.end(How.PUT_IN_ANEW, by, Optional.empty()));
        putIn(by, placing);
      }
      case OVERRULE -> {
        known(placing.catheter()).ifPresent(one -> overrule(one, by));
        putIn(by, placing);
      }
      case END, ATTACH, NOTHING -> {}
    }
  }

  private void putIn(BedsideEvent by, Placing placing) {
    OpenPlacement placement = new OpenPlacement(by, placing);
    all.add(placement);
    last.put(placing.catheter(), placement);
  }

  /** What this instant put in was put in by another event: whatever it ended ends by that one. */
  private void overrule(OpenPlacement overruled, BedsideEvent by) {
    all.remove(overruled);
    all.stream()
        .filter(one -> one.endedBy(overruled.placedBy()))
        .filter(one -> one.catheter().equals(overruled.catheter()))
        .forEach(one -> one.end(How.PUT_IN_ANEW, by, Optional.empty()));
  }

  private void takeOut(CatheterHappening happening, How how, CatheterEvent by) {
    recordLateRemoval(by);
    if (settle(by.catheter(), happening, by) == CatheterAction.END) {
      known(by.catheter()).ifPresent(placement -> placement.end(how, by, Optional.empty()));
    }
  }

  /** A discharge may have ended the time of this catheter: now its removal is on record. */
  private void recordLateRemoval(CatheterEvent by) {
    for (OpenPlacement placement : all) {
      Optional<Conflicts.Departure> departure = placement.departure();
      if (placement.catheter().equals(by.catheter()) && departure.isPresent()) {
        Cell<DepartureAction> cell =
            conflicts.departures().cell(departure.get(), DepartureEvent.TAKEN_OUT);
        if (cell.action() == DepartureAction.RECORD) {
          placement.recordLate(by);
        }
      }
    }
  }

  private CatheterAction settle(
      CatheterId catheter, CatheterHappening happening, BedsideEvent event) {
    Optional<OpenPlacement> known = known(catheter);
    CatheterBefore before =
        known.map(placement -> before(placement, event)).orElse(CatheterBefore.NEVER_IN);
    Cell<CatheterAction> cell = conflicts.catheters().cell(before, happening);
    for (IssueCode code : cell.remarks()) {
      if (cell.action() == CatheterAction.OVERRULE) {
        BedsideEvent overruled = known.orElseThrow().placedBy();
        remarks.add(code, Doubt.ofOverruled(catheter.value()), overruled, event);
      } else {
        String sentence = Doubt.ofCatheter(code, catheter.value(), event);
        remarks.add(code, sentence, event, placedBy(known, before));
      }
    }
    return cell.action();
  }

  private static BedsideEvent[] placedBy(Optional<OpenPlacement> known, CatheterBefore before) {
    return known
        .filter(placement -> before == CatheterBefore.IN_PLACE)
        .map(placement -> new BedsideEvent[] {placement.placedBy()})
        .orElse(new BedsideEvent[0]);
  }

  private Optional<OpenPlacement> known(CatheterId catheter) {
    return Optional.ofNullable(last.get(catheter));
  }

  private static CatheterBefore before(OpenPlacement placement, BedsideEvent event) {
    return switch (placement.state()) {
      case IN_PLACE ->
          placement.placedBy().at().equals(event.at())
              ? CatheterBefore.IN_PLACE_NOW
              : CatheterBefore.IN_PLACE;
      case RESTING -> CatheterBefore.RESTING;
      case OUT -> CatheterBefore.OUT;
    };
  }
}
