package indwell.domain.timeline;

import indwell.domain.event.BusinessId;
import indwell.domain.event.EventType;
import indwell.domain.event.Movement;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.time.Span;
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
  private final TimelineReader.Remarks remarks;
  private final Map<BusinessId, OpenStay> stays = new LinkedHashMap<>();
  private final List<WardStay> finished = new ArrayList<>();
  private Optional<Here> here = Optional.empty();

  Whereabouts(TimelineReader.Remarks remarks) {
    this.remarks = remarks;
  }

  /** A stay while the timeline is read. */
  private static final class OpenStay {
    private final BusinessId encounter;
    private final Instant start;
    private final List<WardStay> wards = new ArrayList<>();
    private Optional<Movement> endedBy = Optional.empty();

    private OpenStay(BusinessId encounter, Instant start) {
      this.encounter = encounter;
      this.start = start;
    }

    private Stay asStay(List<WardStay> wardsNow) {
      return new Stay(encounter, new Span(start, endedBy.map(Movement::at)), wardsNow, endedBy);
    }
  }

  /** Where the patient is now: the arrival that brought them there, and its stay. */
  private record Here(OpenStay stay, Arrival arrival) {
    private WardStay until(Optional<Instant> end) {
      return new WardStay(
          arrival.ward(), arrival.inpatient(), new Span(arrival.at(), end), arrival.key());
    }
  }

  /** Takes an arrival in; false when it changed nothing. */
  boolean arrive(Arrival arrival) {
    OpenStay known = stays.get(arrival.encounter());
    if (known != null && known.endedBy.isPresent()) {
      return ignoreAfterEnd(arrival, known);
    }
    boolean admission = arrival.type() == EventType.PATIENT_ADMITTED;
    if (admission) {
      endOtherStays(arrival);
    } else {
      remarkOverlap(arrival);
    }
    OpenStay stay = known == null ? open(arrival, admission) : known;
    if (known != null && admission) {
      remarks.add(
          IssueCode.ADMITTED_TWICE,
          "The stay had begun before this admission; it is read as a movement within the stay.",
          arrival);
    }
    move(stay, arrival);
    return true;
  }

  /** Takes a discharge in; false when the patient did not leave by it. */
  boolean discharge(Discharge discharge) {
    OpenStay stay = stays.get(discharge.encounter());
    if (stay == null) {
      remarks.add(
          IssueCode.DISCHARGE_WITHOUT_STAY,
          "The patient was discharged from a stay that had not begun.",
          discharge);
      return here.isEmpty();
    }
    if (stay.endedBy.isPresent()) {
      return ignoreAfterEnd(discharge, stay);
    }
    stay.endedBy = Optional.of(discharge);
    if (here.isPresent() && here.get().stay() != stay) {
      return false;
    }
    leave(discharge.at());
    return true;
  }

  /** The ward that the patient is in, inpatient or not; empty outside any stay. */
  Optional<Ward> currentWard() {
    return here.map(place -> place.arrival().ward());
  }

  List<Stay> stays() {
    return stays.values().stream().map(stay -> stay.asStay(wardsOf(stay))).toList();
  }

  private List<WardStay> wardsOf(OpenStay stay) {
    return withLasting(
        stay.wards, here.filter(place -> place.stay() == stay).map(Whereabouts::lasting));
  }

  List<WardStay> wards() {
    return withLasting(finished, here.map(Whereabouts::lasting));
  }

  private static WardStay lasting(Here place) {
    return place.until(Optional.empty());
  }

  private static List<WardStay> withLasting(List<WardStay> done, Optional<WardStay> lasting) {
    List<WardStay> all = new ArrayList<>(done);
    lasting.ifPresent(all::add);
    return all;
  }

  private OpenStay open(Arrival arrival, boolean admission) {
    if (!admission) {
      remarks.add(
          IssueCode.STAY_WITHOUT_ADMISSION,
          "The stay has no admission before this transfer, which is read as its beginning.",
          arrival);
    }
    OpenStay stay = new OpenStay(arrival.encounter(), arrival.at());
    stays.put(arrival.encounter(), stay);
    return stay;
  }

  private void endOtherStays(Arrival admission) {
    for (OpenStay stay : stays.values()) {
      if (stay.endedBy.isEmpty() && !stay.encounter.equals(admission.encounter())) {
        stay.endedBy = Optional.of(admission);
        remarks.add(
            IssueCode.STAY_ENDED_BY_NEXT_ADMISSION,
            "An earlier stay had no discharge; it is read as ended by this admission.",
            admission);
      }
    }
  }

  private void remarkOverlap(Arrival transfer) {
    boolean elsewhere =
        here.isPresent() && !here.get().stay().encounter.equals(transfer.encounter());
    if (elsewhere) {
      remarks.add(
          IssueCode.STAYS_OVERLAP,
          "The patient was transferred in one stay while another had not ended; the latest movement"
              + " says where the patient is.",
          transfer,
          here.get().arrival());
    }
  }

  private void move(OpenStay stay, Arrival arrival) {
    if (here.isPresent() && here.get().arrival().at().equals(arrival.at())) {
      remarks.add(
          IssueCode.MOVEMENTS_AT_ONE_INSTANT,
          "Two movements happened at one instant; the last in timeline order decides.",
          arrival,
          here.get().arrival());
      here = Optional.empty();
    }
    leave(arrival.at());
    here = Optional.of(new Here(stay, arrival));
  }

  private void leave(Instant at) {
    if (here.isPresent()) {
      WardStay done = here.get().until(Optional.of(at));
      here.get().stay().wards.add(done);
      finished.add(done);
      here = Optional.empty();
    }
  }

  private boolean ignoreAfterEnd(Movement movement, OpenStay ended) {
    remarks.add(
        IssueCode.MOVEMENT_AFTER_STAY_ENDED,
        "The stay had ended before this movement, which changes nothing.",
        movement,
        ended.endedBy.orElseThrow());
    return false;
  }
}
