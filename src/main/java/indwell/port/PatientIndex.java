package indwell.port;

import indwell.domain.event.Ward;
import java.time.Instant;
import java.util.List;

/**
 * What has to be known of a patient to tell, without reading the events, whether a question about a
 * ward or a moment concerns them. Written anew with every event of the patient.
 *
 * @param wards time in wards; a movement that changed nothing stands as an empty span at its
 *     instant
 * @param catheters time with a catheter in place, or with one whose removal is not on record
 */
public record PatientIndex(List<WardSpan> wards, List<CatheterSpan> catheters) {
  public PatientIndex {
    wards = List.copyOf(wards);
    catheters = List.copyOf(catheters);
  }

  /**
   * Time in one ward.
   *
   * @param endExclusive {@link Instant#MAX} while it lasts
   */
  public record WardSpan(Ward ward, boolean inpatient, Instant start, Instant endExclusive) {}

  /**
   * Time with a catheter.
   *
   * @param endExclusive {@link Instant#MAX} while it lasts
   */
  public record CatheterSpan(Instant start, Instant endExclusive) {}
}
