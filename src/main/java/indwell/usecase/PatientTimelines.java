package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventVersion.Stated;
import indwell.port.ClinicalStore.Reading;
import indwell.port.StoredEvent;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.BiConsumer;

/** Reads patients' current events back from the store. */
public final class PatientTimelines {
  /** So many patients are held in memory at once. */
  private static final int BATCH = 500;

  private static final ParsedEvents PARSED = new ParsedEvents();

  private PatientTimelines() {}

  /** The current events of one patient, in no particular order. */
  public static List<BedsideEvent> eventsOf(Reading store, String patientId) {
    return events(store.currentEvents(patientId));
  }

  /** Walks over the patients, a batch at a time, in ascending order of id. */
  static void forEach(
      Reading store, Collection<String> patientIds, BiConsumer<String, List<BedsideEvent>> visit) {
    List<String> ids = patientIds.stream().sorted().toList();
    for (int from = 0; from < ids.size(); from += BATCH) {
      List<String> batch = ids.subList(from, Math.min(from + BATCH, ids.size()));
      store.currentEvents(batch).entrySet().stream()
          .sorted(Map.Entry.comparingByKey())
          .forEach(entry -> visit.accept(entry.getKey(), events(entry.getValue())));
    }
  }

  /** The events that were stored, without those taken back. */
  static List<BedsideEvent> events(List<StoredEvent> stored) {
    List<BedsideEvent> events = new ArrayList<>(stored.size());
    for (StoredEvent one : stored) {
      if (PARSED.read(one) instanceof Stated stated) {
        events.add(stated.event());
      }
    }
    return events;
  }
}
