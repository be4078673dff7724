package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiConsumer;

/** What device days are counted from: the store, or what somebody sent. */
interface CountedRecord {
  /** What holds in the wards. */
  HouseRules house();

  /** Whether any event names the ward, or it has described itself. */
  boolean knowsWard(Ward ward);

  /** Whether there is a Patient with that id. */
  boolean knowsPatient(String patientId);

  /** Wards with an inpatient movement, ever. */
  Set<Ward> inpatientWards();

  /**
   * Walks over patients, ascending by id of the Patient: all of those with a ward span that meets
   * the time, in any of the wards.
   *
   * @param only if given, at most this one
   */
  void forEach(
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Optional<String> only,
      BiConsumer<String, List<BedsideEvent>> visit);
}
