package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.EventVersion.Withdrawn;
import indwell.intake.EventReader;
import indwell.intake.EventTree;
import indwell.port.StoredEvent;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * All that was ever said of one event, the first version first.
 *
 * @param type by its newest version
 */
public record EventHistory(EventKey key, EventType type, List<Version> versions) {
  public EventHistory {
    versions = List.copyOf(versions);
  }

  /**
   * One version.
   *
   * @param receivedAt when the service took it
   * @param event empty when this version takes the event back
   * @param patientId id of the FHIR Patient that it names
   * @param changes against the version before
   */
  public record Version(
      int version,
      Instant receivedAt,
      Optional<BedsideEvent> event,
      Optional<BusinessId> recorder,
      String patientId,
      List<Change> changes) {}

  /**
   * A field that another version says otherwise.
   *
   * @param field as in {@code POST /events}
   * @param before empty where it was not stated
   * @param after likewise
   */
  public record Change(String field, Optional<String> before, Optional<String> after) {}

  /** Reads the versions back, given ascending. */
  static EventHistory of(EventKey key, List<StoredEvent> stored) {
    List<Version> versions = new ArrayList<>();
    SortedMap<String, String> before = new TreeMap<>();
    EventType type = EventType.CARE_CHECKED;
    for (StoredEvent one : stored) {
      EventVersion read = EventReader.fromCanonical(one.canonical());
      SortedMap<String, String> after = fields(read);
      versions.add(
          new Version(
              one.version(),
              one.receivedAt(),
              read instanceof Stated stated ? Optional.of(stated.event()) : Optional.empty(),
              recorder(read),
              one.patientId(),
              versions.isEmpty() || after.isEmpty() ? List.of() : changes(before, after)));
      before = after.isEmpty() ? before : after;
      type = read.type();
    }
    return new EventHistory(key, type, versions);
  }

  private static Optional<BusinessId> recorder(EventVersion read) {
    return read instanceof Stated stated
        ? stated.event().envelope().recorder()
        : ((Withdrawn) read).recorder();
  }

  /** Every field with its value as text; none of a withdrawal. */
  private static SortedMap<String, String> fields(EventVersion read) {
    SortedMap<String, String> fields = new TreeMap<>();
    if (read instanceof Stated stated) {
      Map<String, Object> tree = EventTree.of(stated.event(), 1);
      tree.remove("version");
      flatten("", tree, fields);
    }
    return fields;
  }

  private static void flatten(String path, Map<?, ?> tree, Map<String, String> into) {
    for (Map.Entry<?, ?> entry : tree.entrySet()) {
      String name = path.isEmpty() ? "" + entry.getKey() : path + "." + entry.getKey();
      if (entry.getValue() instanceof Map<?, ?> inner) {
        flatten(name, inner, into);
      } else {
        into.put(name, String.valueOf(entry.getValue()));
      }
    }
  }

  private static List<Change> changes(Map<String, String> before, Map<String, String> after) {
    TreeSet<String> names = new TreeSet<>(before.keySet());
    names.addAll(after.keySet());
    return names.stream()
        .map(
            name ->
                new Change(
                    name,
                    Optional.ofNullable(before.get(name)),
                    Optional.ofNullable(after.get(name))))
        .filter(change -> !change.before().equals(change.after()))
        .toList();
  }

  /** Whether anything but the first version was ever said. */
  public boolean corrected() {
    return versions.size() > 1;
  }

  /** Whether the event is taken back. */
  public boolean takenBack() {
    return versions.get(versions.size() - 1).event().isEmpty();
  }
}
