package indwell.port;

import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTime;
import java.time.Instant;
import java.util.List;

/**
 * What has to be known of a patient to tell, without reading the events, whether a question about a
 * ward or a moment concerns them. Written anew with every event of the patient.
 *
 * @param wards time in wards; a movement that changed nothing stands as an empty span at its
 *     instant
 * @param catheters time with a catheter in place, or with one whose removal is not on record
 * @param counted time that counts for surveillance
 */
public record PatientIndex(
    List<WardSpan> wards, List<CatheterSpan> catheters, List<CountedTime> counted) {
  /** Of whom nothing is on record. */
  public static final PatientIndex NOWHERE = new PatientIndex(List.of(), List.of(), List.of());

  public PatientIndex {
    wards = List.copyOf(wards);
    catheters = List.copyOf(catheters);
    counted = List.copyOf(counted);
  }

  /**
   * Time in one ward.
   *
   * @param endExclusive {@link Instant#MAX} while it lasts
   * @param doubtful whether there are remarks on the patient's record, wherever and whenever
   */
  public record WardSpan(
      Ward ward, boolean inpatient, Instant start, Instant endExclusive, boolean doubtful) {}

  /**
   * Time with a catheter.
   *
   * @param endExclusive {@link Instant#MAX} while it lasts
   */
  public record CatheterSpan(Instant start, Instant endExclusive) {}
}
