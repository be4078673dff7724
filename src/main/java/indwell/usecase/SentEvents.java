package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.SettingsHistory;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Events that are counted without being stored.
 *
 * @param byPatient by id of the Patient
 * @param settings of the wards that describe themselves
 */
public record SentEvents(
    SortedMap<String, List<BedsideEvent>> byPatient, Map<Ward, SettingsHistory> settings) {
  public SentEvents {
    byPatient = new TreeMap<>(byPatient);
    settings = Map.copyOf(settings);
  }
}
