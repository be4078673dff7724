package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Walks one patient's events in timeline order, keeping who is where and which catheters are in
 * place. What to do when two events disagree is decided here and nowhere else (contract, section
 * 4).
 */
final class TimelineReader {
  private final List<UrineOutput> urine = new ArrayList<>();
  private final List<BodyWeight> weights = new ArrayList<>();
  private final List<Remark> remarks = new ArrayList<>();
  private final Whereabouts whereabouts = new Whereabouts(this::remark);
  private final CathetersInPlace catheters = new CathetersInPlace(this::remark);

  /** Takes notice of something doubtful. */
  interface Remarks {
    void add(IssueCode code, String sentence, BedsideEvent doubtful, BedsideEvent... others);
  }

  Timeline read(List<BedsideEvent> ordered) {
    ordered.forEach(this::read);
    return new Timeline(
        ordered,
        whereabouts.stays(),
        whereabouts.wards(),
        catheters.placements(),
        urine,
        weights,
        remarks);
  }

  private void read(BedsideEvent event) {
    boolean unused =
        switch (event.type()) {
          case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> arrive((Arrival) event);
          case PATIENT_DISCHARGED -> discharge((Discharge) event);
          case CATHETER_INSERTED -> insert((Insertion) event);
          case CATHETER_EXCHANGED -> exchange((Exchange) event);
          case CATHETER_REMOVED -> catheters.remove((Removal) event);
          case NEED_REVIEWED, SECUREMENT_CHANGED, CARE_CHECKED, SPECIMEN_COLLECTED ->
              catheters.fact((CatheterEvent) event);
          case URINE_MEASURED -> measure((UrineOutput) event);
          case WEIGHT_MEASURED -> weights.add((BodyWeight) event);
        };
  }

  private boolean arrive(Arrival arrival) {
    boolean moved = whereabouts.arrive(arrival);
    if (moved) {
      catheters.resume(arrival.at());
    }
    return moved;
  }

  private boolean discharge(Discharge discharge) {
    Optional<Ward> ward = whereabouts.currentWard();
    boolean left = whereabouts.discharge(discharge);
    if (left) {
      catheters.discharge(discharge, ward);
    }
    return left;
  }

  private boolean insert(Insertion insertion) {
    return place(insertion, insertion.placing());
  }

  private boolean exchange(Exchange exchange) {
    catheters.takeOut(exchange);
    return place(exchange, exchange.replacement());
  }

  private boolean place(BedsideEvent by, Placing placing) {
    if (whereabouts.currentWard().isEmpty()) {
      remark(
          IssueCode.CATHETER_OUTSIDE_STAY,
          "Catheter "
              + placing.catheter().value()
              + " was put in outside any stay; it makes no catheter day until a stay begins.",
          by);
    }
    return catheters.place(by, placing);
  }

  private boolean measure(UrineOutput output) {
    urine.add(output);
    Optional<CatheterId> named = output.catheter();
    named.ifPresent(catheter -> catheters.expectInPlace(catheter, output));
    return true;
  }

  private void remark(
      IssueCode code, String sentence, BedsideEvent doubtful, BedsideEvent... others) {
    remarks.add(Remarking.of(code, sentence, doubtful, others));
  }
}
