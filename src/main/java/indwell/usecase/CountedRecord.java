package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.function.BiConsumer;

/** What device days are counted from: the store, or what somebody sent. */
interface CountedRecord {

  /** Some of the patients. */
  sealed interface Who {

    /** All of them. */
    record Everybody() implements Who {}

    /** At most this one. */
    record Only(String patientId) implements Who {}

    /** Those whose record has remarks. */
    record Doubtful() implements Who {}
  }

  /** What holds in the wards. */
  HouseRules house();

  /** Whether any event names the ward, or it has described itself. */
  boolean knowsWard(Ward ward);

  /** Whether there is a Patient with that id. */
  boolean knowsPatient(String patientId);

  /** Wards with an inpatient movement, ever. */
  Set<Ward> inpatientWards();

  /** Gives the times that count in the wards and meet the time, in no particular order. */
  void forEachTime(Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times);

  /**
   * Walks over patients, ascending by id of the Patient: all of those with a ward span that meets
   * the time, in any of the wards.
   *
   * @param who which of them
   */
  void forEach(
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Who who,
      BiConsumer<String, List<BedsideEvent>> visit);
}
