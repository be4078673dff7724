package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import java.time.Instant;
import java.util.List;
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
  public void forEachTime(
      Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times) {
    state.countedTimes(wards, start, endExclusive, times);
  }

  @Override
  public void forEach(
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Who who,
      BiConsumer<String, List<BedsideEvent>> visit) {
    if (!wards.isEmpty()) {
      PatientTimelines.forEach(state, patients(wards, start, endExclusive, who), visit);
    }
  }

  private Set<String> patients(Set<Ward> wards, Instant start, Instant endExclusive, Who who) {
    if (who instanceof Who.Doubtful) {
      return state.doubtfulPatientsInWards(wards, start, endExclusive);
    }
    Set<String> all = new TreeSet<>(state.patientsInWards(wards, start, endExclusive));
    if (who instanceof Who.Only one) {
      all.retainAll(Set.of(one.patientId()));
    }
    return all;
  }
}
