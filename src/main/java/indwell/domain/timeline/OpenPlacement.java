package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Placing;
import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import indwell.domain.timeline.Conflicts.CatheterThere;
import indwell.domain.timeline.Conflicts.Departure;
import indwell.domain.timeline.PlacementEnd.How;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A placement while the timeline is read. */
final class OpenPlacement {
  private final BedsideEvent placedBy;
  private final Placing placing;
  private final List<Span> rests = new ArrayList<>();
  private final List<CatheterEvent> facts = new ArrayList<>();
  private Optional<Discharge> restsBy = Optional.empty();
  private Optional<PlacementEnd> end = Optional.empty();

  OpenPlacement(BedsideEvent placedBy, Placing placing) {
    this.placedBy = placedBy;
    this.placing = placing;
  }

  BedsideEvent placedBy() {
    return placedBy;
  }

  CatheterId catheter() {
    return placing.catheter();
  }

  /** How the catheter is now. */
  CatheterThere state() {
    if (end.isPresent()) {
      return CatheterThere.OUT;
    }
    return restsBy.isPresent() ? CatheterThere.RESTING : CatheterThere.IN_PLACE;
  }

  /** Whether its removal is on record, if a discharge ended it. */
  Optional<Departure> departure() {
    return end.filter(one -> one.how() == How.DISCHARGED)
        .map(one -> one.recordedLater().isPresent() ? Departure.RECORDED : Departure.UNRECORDED);
  }

  void add(CatheterEvent fact) {
    facts.add(fact);
  }

  /** The patient left with it on purpose. */
  void rest(Discharge by) {
    restsBy = Optional.of(by);
  }

  /** The rest is over. */
  void resume(Instant at) {
    restsBy.ifPresent(by -> rests.add(Span.between(by.at(), at)));
    restsBy = Optional.empty();
  }

  /** Whether that event ended it. */
  boolean endedBy(BedsideEvent event) {
    return end.filter(one -> one.by().equals(event)).isPresent();
  }

  /** Another discharge of the same instant decides: this one did not happen to the catheter. */
  void takeBack(Discharge overruled) {
    end = end.filter(one -> !one.by().equals(overruled));
    restsBy = restsBy.filter(by -> !by.equals(overruled));
  }

  /** A rest that is not over stays open: the catheter was not in place again. */
  void end(How how, BedsideEvent by, Optional<Ward> ward) {
    end = Optional.of(new PlacementEnd(how, by, ward, Optional.empty()));
  }

  /** Notes the removal or exchange on record after a discharge ended this placement. */
  void recordLate(BedsideEvent by) {
    end =
        end.map(known -> new PlacementEnd(known.how(), known.by(), known.ward(), Optional.of(by)));
  }

  Placement asPlacement() {
    List<Span> allRests = new ArrayList<>(rests);
    restsBy.ifPresent(by -> allRests.add(Span.since(by.at())));
    return new Placement(placedBy, placing, end, allRests, facts);
  }
}
