package indwell.usecase;

import indwell.domain.event.EventVersion;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventBodies;
import indwell.intake.Reading;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * Fills a store as intake does, but makes no resources of the events (a Patient aside, which the
 * use cases look for): thousands of histories in the time of a few. {@link AnyOrderOfArrivalTest}
 * has the whole way.
 */
public final class UnmappedIntake {
  private static final Instant NOW = Instant.parse("2030-01-01T00:00:00Z");

  private UnmappedIntake() {}

  /** Takes event bodies in their order of arrival, in one transaction. */
  public static void take(ClinicalStore store, List<String> bodies) {
    store.write(
        tx -> {
          Set<String> patients = new TreeSet<>();
          bodies.forEach(body -> patients.add(take(tx, body)));
          for (String patient : patients) {
            tx.index(
                patient,
                Optional.empty(),
                PatientIndexer.of(Timeline.of(PatientTimelines.eventsOf(tx, patient))));
            tx.put(patientOf(patient));
          }
          return null;
        });
  }

  private static String take(Writing tx, String body) {
    Reading reading = EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW);
    if (!(reading instanceof Reading.Accepted accepted)) {
      throw new IllegalArgumentException("Not an event: " + body + " " + reading);
    }
    EventVersion version = accepted.version();
    String patient = ResourceId.patient(version.patient()).id();
    boolean known =
        tx.versionsOf(version.key()).stream().anyMatch(one -> one.version() == version.version());
    if (!known) {
      tx.append(
          new StoredEvent(
              version.key(),
              version.version(),
              version instanceof EventVersion.Withdrawn,
              patient,
              accepted.canonical(),
              NOW,
              List.of()));
    }
    return patient;
  }

  private static StoredResource patientOf(String id) {
    return new StoredResource(
        new ResourceKey("Patient", id), 1, NOW, id, List.of(), "{\"resourceType\":\"Patient\"}");
  }
}
