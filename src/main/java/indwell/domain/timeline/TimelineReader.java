package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Conflicts.PlacingEvent;
import java.util.ArrayList;
import java.util.List;

/**
 * Walks one patient's events in timeline order, keeping who is where and which catheters are in
 * place. What to do when two events disagree is looked up in {@link Conflicts} (contract, section
 * 4).
 */
final class TimelineReader {
  private final List<UrineOutput> urine = new ArrayList<>();
  private final List<BodyWeight> weights = new ArrayList<>();
  private final List<Remark> remarks = new ArrayList<>();
  private final Conflicts conflicts;
  private final Whereabouts whereabouts;
  private final Discharges discharges;
  private final CathetersInPlace catheters;

  TimelineReader(Conflicts conflicts) {
    this.conflicts = conflicts;
    this.whereabouts = new Whereabouts(conflicts, this::remark);
    this.discharges = new Discharges(conflicts, this::remark, whereabouts);
    this.catheters = new CathetersInPlace(conflicts, this::remark);
  }

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
    }
  }

  private void arrive(Arrival arrival) {
    if (whereabouts.arrive(arrival)) {
      catheters.resume(arrival.at());
    }
  }

  private void discharge(Discharge discharge) {
    discharges.take(discharge).ifPresent(catheters::discharge);
  }

  private void insert(Insertion insertion) {
    remarkWhere(insertion, insertion.placing());
    catheters.insert(insertion, insertion.placing());
  }

  private void exchange(Exchange exchange) {
    catheters.takeOut(exchange);
    remarkWhere(exchange, exchange.replacement());
    catheters.putIn(exchange);
  }

  private void remarkWhere(BedsideEvent by, Placing placing) {
    conflicts
        .placings()
        .cell(whereabouts.patient(), PlacingEvent.PUT_IN)
        .remarks()
        .forEach(code -> remark(code, Doubt.ofCatheter(code, placing.catheter().value(), by), by));
  }

  private void measure(UrineOutput output) {
    urine.add(output);
    output.catheter().ifPresent(catheter -> catheters.expectInPlace(catheter, output));
  }

  private void remark(
      IssueCode code, String sentence, BedsideEvent doubtful, BedsideEvent... others) {
    remarks.add(Remarking.of(code, sentence, doubtful, others));
  }
}
