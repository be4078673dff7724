package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.fhir.map.Draft;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ResourceId;
import indwell.port.StoredEvent;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What a version leaves among the resources that comes after a higher one. Had it come in its turn
 * it would have made resources, and those that are made no more would be there, entered in error
 * with its content: they are written so at once, and the order of arrival decides nothing.
 */
final class LateVersion {
  private final BedsideEvent late;
  private final Map<String, PatientState> patients;
  private final MappingContext context;

  /**
   * @param patients those that the version and the highest one name, as they are now
   */
  LateVersion(BedsideEvent late, Map<String, PatientState> patients, MappingContext context) {
    this.late = late;
    this.patients = patients;
    this.context = context;
  }

  /**
   * What is to be written.
   *
   * @param known all other versions of the event that are on record
   */
  PlanDiff leaves(Collection<StoredEvent> known) {
    Set<ResourceId> spoken = new HashSet<>();
    patients.values().forEach(state -> spoken.addAll(ids(state)));
    for (StoredEvent other : known) {
      if (other.version() > late.envelope().version()) {
        stated(other).ifPresent(higher -> spoken.addAll(ids(with(higher))));
      }
    }
    List<Draft> left = new ArrayList<>();
    for (Draft draft : with(late).plan().drafts()) {
      boolean lasts = ResourceWriter.lasts(draft.id().type());
      if (lasts && draft.madeBy().contains(late.key())) {
        left.add(draft);
      }
      if (!lasts && !spoken.contains(draft.id())) {
        left.add(enteredInError(draft));
      }
    }
    return new PlanDiff(left, List.of());
  }

  private static Optional<BedsideEvent> stated(StoredEvent stored) {
    return PatientTimelines.events(List.of(stored)).stream().findFirst();
  }

  /** The patient whom a version names, as if it were the current one. */
  private PatientState with(BedsideEvent version) {
    String patient = ResourceId.patient(version.patient()).id();
    return patients
        .getOrDefault(patient, PatientState.of(List.of(), context))
        .with(Map.of(version.key(), Optional.of(version)));
  }

  private static Set<ResourceId> ids(PatientState state) {
    Set<ResourceId> ids = new HashSet<>();
    state.plan().drafts().forEach(draft -> ids.add(draft.id()));
    return ids;
  }

  private static Draft enteredInError(Draft draft) {
    return new Draft(
        draft.id(),
        draft.patientId(),
        draft.madeBy(),
        draft.fingerprint(),
        () -> EnteredInError.mark(draft.build()).orElseThrow());
  }
}
