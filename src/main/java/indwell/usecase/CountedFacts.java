package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount.Counted;
import java.time.YearMonth;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The events that made somebody count in a ward and month: the movement, and what put in. */
final class CountedFacts {
  private final boolean asked;
  private final Map<Ward, Map<YearMonth, Map<EventKey, BedsideEvent>>> facts = new HashMap<>();

  private CountedFacts(boolean asked) {
    this.asked = asked;
  }

  static CountedFacts none() {
    return new CountedFacts(false);
  }

  static CountedFacts collecting() {
    return new CountedFacts(true);
  }

  /** What is to be told of one patient's days. */
  Counted of(Timeline timeline) {
    if (!asked) {
      return (date, stay, catheters) -> {};
    }
    Map<EventKey, BedsideEvent> events =
        timeline.events().stream()
            .collect(Collectors.toMap(BedsideEvent::key, Function.identity(), (one, two) -> one));
    return (date, stay, catheters) -> {
      Map<EventKey, BedsideEvent> month =
          facts
              .computeIfAbsent(stay.ward(), ward -> new HashMap<>())
              .computeIfAbsent(YearMonth.from(date), any -> new LinkedHashMap<>());
      BedsideEvent movement = events.get(stay.by());
      if (movement != null) {
        month.putIfAbsent(stay.by(), movement);
      }
      for (Placement catheter : catheters) {
        month.putIfAbsent(catheter.placedBy().key(), catheter.placedBy());
      }
    };
  }

  /** The events by ward and month, each list by patient and time; none when nobody asked. */
  Map<Ward, Map<YearMonth, List<BedsideEvent>>> all() {
    Map<Ward, Map<YearMonth, List<BedsideEvent>>> all = new TreeMap<>();
    facts.forEach(
        (ward, months) -> {
          Map<YearMonth, List<BedsideEvent>> lists = new TreeMap<>();
          months.forEach((month, events) -> lists.put(month, List.copyOf(events.values())));
          all.put(ward, lists);
        });
    return all;
  }
}
