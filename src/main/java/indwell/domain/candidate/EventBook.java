package indwell.domain.candidate;

import indwell.domain.event.BusinessId;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** The urinary events of the patient, stay by stay, as they become known. */
final class EventBook {
  private final List<Entry> entries = new ArrayList<>();

  /** An event and its stay; empty for one outside any. */
  private record Entry(Optional<BusinessId> encounter, EarlierEvent event) {}

  /** Adds events by the stay that holds their date. */
  static EventBook of(List<EarlierEvent> known, List<HospitalStay> stays) {
    EventBook book = new EventBook();
    for (EarlierEvent event : known) {
      Optional<HospitalStay> stay =
          stays.stream().filter(one -> one.holds(event.dateOfEvent())).findFirst();
      book.add(stay.map(HospitalStay::encounter), event);
    }
    return book;
  }

  void add(Optional<BusinessId> encounter, EarlierEvent event) {
    entries.add(new Entry(encounter, event));
  }

  /** The earliest event of the same stay whose repeat timeframe holds the date. */
  Optional<EarlierEvent> holding(LocalDate date, Optional<BusinessId> encounter) {
    return entries.stream()
        .filter(entry -> entry.encounter().equals(encounter))
        .map(Entry::event)
        .filter(event -> RepeatTimeframe.from(event.dateOfEvent()).holds(date))
        .min(Comparator.comparing(EarlierEvent::dateOfEvent));
  }
}
