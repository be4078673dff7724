package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedPatient;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.domain.timeline.WardDayCount.Counted;
import indwell.domain.timeline.WardStay;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Remembers, where asked to, who counted in which ward and month, and by which events. */
final class CountedPatients {
  private final boolean asked;
  private final Map<Ward, Map<YearMonth, List<CountedPatient>>> all = new TreeMap<>();

  private CountedPatients(boolean asked) {
    this.asked = asked;
  }

  static CountedPatients none() {
    return new CountedPatients(false);
  }

  static CountedPatients collecting() {
    return new CountedPatients(true);
  }

  /** Whether somebody asked who counted. */
  boolean asked() {
    return asked;
  }

  /** Adds a patient to the count. */
  void add(WardDayCount count, Timeline timeline) {
    if (!asked) {
      count.add(timeline);
      return;
    }
    OnePatient patient = new OnePatient(timeline);
    count.add(timeline, patient);
    patient.places.forEach(
        (place, here) ->
            all.computeIfAbsent(place.ward(), ward -> new TreeMap<>())
                .computeIfAbsent(place.month(), month -> new ArrayList<>())
                .add(here.counted()));
  }

  /** By ward and month, in the order in which the patients were added; none when nobody asked. */
  Map<Ward, Map<YearMonth, List<CountedPatient>>> all() {
    return all;
  }

  private record Place(Ward ward, YearMonth month) {}

  /** The days of one patient in one place. */
  private static final class Here {
    private DayCount days = DayCount.NONE;
    private final Map<EventKey, BedsideEvent> facts = new LinkedHashMap<>();

    CountedPatient counted() {
      List<BedsideEvent> events = List.copyOf(facts.values());
      return new CountedPatient(events.get(0).patient(), days, events);
    }
  }

  private static final class OnePatient implements Counted {
    private final Map<EventKey, BedsideEvent> events;
    private final Map<Place, Here> places = new LinkedHashMap<>();

    OnePatient(Timeline timeline) {
      events =
          timeline.events().stream()
              .collect(Collectors.toMap(BedsideEvent::key, Function.identity(), (one, two) -> one));
    }

    @Override
    public void day(LocalDate date, WardStay stay, List<Placement> catheters) {
      Here here =
          places.computeIfAbsent(new Place(stay.ward(), YearMonth.from(date)), place -> new Here());
      here.days = here.days.plus(new DayCount(1, catheters.isEmpty() ? 0 : 1));
      BedsideEvent movement = events.get(stay.by());
      if (movement != null) {
        here.facts.putIfAbsent(stay.by(), movement);
      }
      for (Placement catheter : catheters) {
        here.facts.putIfAbsent(catheter.placedBy().key(), catheter.placedBy());
      }
    }
  }
}
