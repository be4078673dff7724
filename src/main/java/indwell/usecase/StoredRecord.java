package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiConsumer;

/** A state of the store, to count device days from. */
record StoredRecord(Reading state, HouseRules house) implements CountedRecord {
  @Override
  public boolean knowsWard(Ward ward) {
    return state.knowsWard(ward) || house.describes(ward);
  }

  @Override
  public boolean knowsPatient(String patientId) {
    return state.resource(new ResourceKey("Patient", patientId)).isPresent();
  }

  @Override
  public Set<Ward> inpatientWards() {
    return state.inpatientWards();
  }

  @Override
  public void forEach(
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Optional<String> only,
      BiConsumer<String, List<BedsideEvent>> visit) {
    if (!wards.isEmpty()) {
      Set<String> patients = new TreeSet<>(state.patientsInWards(wards, start, endExclusive));
      only.ifPresent(one -> patients.retainAll(Set.of(one)));
      PatientTimelines.forEach(state, patients, visit);
    }
  }
}
