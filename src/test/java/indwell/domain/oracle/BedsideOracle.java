package indwell.domain.oracle;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.Drainage;
import indwell.domain.event.Movement;
import indwell.domain.event.Placing;
import indwell.domain.event.Route;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;

/**
 * The contract's section 4, written a second time and naively: every question is answered from the
 * sorted list of events alone, by asking what stood after the first so many of them. It keeps no
 * state and shares nothing with the code under test but the event records. Where two events of one
 * instant disagree the last decides: of two discharges of a stay only the last is kept, and what a
 * catheter is comes from the last event that put it in at the instant at which it came to be in.
 */
class BedsideOracle {

  /** What a catheter id is after so many events: in or at rest, by the event at that position. */
  record Held(int by, boolean resting) {}

  private static final List<String> ORDER =
      List.of("patient-admitted", "patient-transferred", "catheter-inserted", "catheter-exchanged");

  final ZoneId zone;
  final List<BedsideEvent> events;

  BedsideOracle(List<BedsideEvent> all, ZoneId zone, Instant asOf) {
    this.zone = zone;
    this.events = new ArrayList<>();
    all.stream().filter(event -> event.at().compareTo(asOf) <= 0).forEach(events::add);
    events.sort(
        Comparator.comparing(BedsideEvent::at)
            .thenComparing(event -> place(event.type().code()))
            .thenComparing(event -> event.key().source())
            .thenComparing(event -> event.key().eventId()));
    events.removeAll(
        IntStream.range(0, events.size()).filter(this::overruled).mapToObj(events::get).toList());
  }

  /** A discharge that a later one of the same stay and instant takes the place of. */
  private boolean overruled(int position) {
    return events.get(position) instanceof Movement.Discharge one
        && events.subList(position + 1, events.size()).stream()
            .anyMatch(
                other ->
                    other instanceof Movement.Discharge discharge
                        && discharge.encounter().equals(one.encounter())
                        && discharge.at().equals(one.at()));
  }

  private static int place(String type) {
    int early = ORDER.indexOf(type);
    if (early >= 0) {
      return early;
    }
    return type.equals("catheter-removed") ? 98 : type.equals("patient-discharged") ? 99 : 50;
  }

  /** How many events had happened by then. */
  int countBy(Instant instant) {
    return (int) events.stream().filter(event -> !event.at().isAfter(instant)).count();
  }

  Instant at(int position) {
    return events.get(position).at();
  }

  // Stays.

  boolean opened(BusinessId encounter, int after) {
    return firstArrival(encounter, after).isPresent();
  }

  /** The position of the arrival that opened the stay. */
  Optional<Integer> firstArrival(BusinessId encounter, int after) {
    for (int i = 0; i < after; i++) {
      if (events.get(i) instanceof Movement.Arrival arrival
          && arrival.encounter().equals(encounter)) {
        return Optional.of(i);
      }
    }
    return Optional.empty();
  }

  /** The position of what ended the stay: its own discharge, or the admission of another. */
  Optional<Integer> ended(BusinessId encounter, int after) {
    for (int i = 0; i < after; i++) {
      if (!opened(encounter, i)) {
        continue;
      }
      BedsideEvent event = events.get(i);
      if (event instanceof Movement.Discharge discharge
          && discharge.encounter().equals(encounter)) {
        return Optional.of(i);
      }
      if (event instanceof Movement.Admission admission
          && !admission.encounter().equals(encounter)
          && ended(admission.encounter(), i).isEmpty()) {
        return Optional.of(i);
      }
    }
    return Optional.empty();
  }

  boolean open(BusinessId encounter, int after) {
    return opened(encounter, after) && ended(encounter, after).isEmpty();
  }

  boolean moves(int position) {
    return events.get(position) instanceof Movement.Arrival arrival
        && ended(arrival.encounter(), position).isEmpty();
  }

  /** Whether the patient leaves by it: out of the stay they are in, or out of none at all. */
  boolean leaves(int position) {
    if (!(events.get(position) instanceof Movement.Discharge discharge)
        || ended(discharge.encounter(), position).isPresent()) {
      return false;
    }
    Optional<Movement.Arrival> here = where(position);
    return here.isEmpty() || here.get().encounter().equals(discharge.encounter());
  }

  /** The movement that says where the patient is. */
  Optional<Movement.Arrival> where(int after) {
    for (int i = after - 1; i >= 0; i--) {
      if (moves(i)) {
        return Optional.of((Movement.Arrival) events.get(i));
      }
      if (leaves(i)) {
        return Optional.empty();
      }
    }
    return Optional.empty();
  }

  // Catheters.

  Set<String> catheterIds() {
    Set<String> ids = new TreeSet<>();
    for (BedsideEvent event : events) {
      if (event instanceof CatheterEvent one) {
        ids.add(one.catheter().value());
      }
      if (event instanceof CatheterEvent.Exchange exchange) {
        ids.add(exchange.replacement().catheter().value());
      }
    }
    return ids;
  }

  Optional<Held> held(String id, int after) {
    Optional<Held> held = Optional.empty();
    for (int i = 0; i < after; i++) {
      BedsideEvent event = events.get(i);
      if (takesOut(event, id)) {
        held = Optional.empty();
      }
      boolean in = held.isPresent() && !held.get().resting();
      boolean free = !in || at(held.get().by()).equals(at(i));
      if (placing(i).isPresent() && placing(i).get().catheter().value().equals(id) && free) {
        held = Optional.of(new Held(i, false));
      }
      if (held.isPresent() && in && leaves(i)) {
        held =
            withCatheter(event) ? Optional.of(new Held(held.get().by(), true)) : Optional.empty();
      }
      if (held.isPresent() && moves(i)) {
        held = Optional.of(new Held(held.get().by(), false));
      }
    }
    return held;
  }

  boolean in(String id, int after) {
    return held(id, after).filter(held -> !held.resting()).isPresent();
  }

  static boolean takesOut(BedsideEvent event, String id) {
    return event instanceof CatheterEvent.Removal removal && removal.catheter().value().equals(id)
        || event instanceof CatheterEvent.Exchange exchange
            && exchange.catheter().value().equals(id);
  }

  static boolean withCatheter(BedsideEvent discharge) {
    return ((Movement.Discharge) discharge).withCatheter().equals(Optional.of(true));
  }

  Optional<Placing> placing(int position) {
    BedsideEvent event = events.get(position);
    if (event instanceof CatheterEvent.Insertion insertion) {
      return Optional.of(insertion.placing());
    }
    return event instanceof CatheterEvent.Exchange exchange
        ? Optional.of(exchange.replacement())
        : Optional.empty();
  }

  /** Whether a urethral catheter with a drainage bag is in place. */
  boolean counts(int after) {
    for (String id : catheterIds()) {
      Optional<Held> held = held(id, after);
      if (held.isPresent() && !held.get().resting()) {
        Placing placing = placing(held.get().by()).orElseThrow();
        if (placing.route() == Route.URETHRAL && placing.drainage() == Drainage.BAG) {
          return true;
        }
      }
    }
    return false;
  }
}
