package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import java.util.List;

/**
 * What one patient adds to the counts of a ward and a stretch of dates.
 *
 * @param facts the events that made the patient count: each movement and each placing, once, in the
 *     order of the dates on which they first did
 */
public record CountedPatient(BusinessId patient, DayCount days, List<BedsideEvent> facts) {
  public CountedPatient {
    facts = List.copyOf(facts);
  }
}
