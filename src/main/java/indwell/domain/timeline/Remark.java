package indwell.domain.timeline;

import indwell.domain.event.EventKey;
import indwell.domain.refusal.IssueCode;
import java.time.Instant;
import java.util.List;

/**
 * A data-quality remark: something in the record that cannot quite be so. It refuses nothing; it
 * says how the timeline read it.
 *
 * @param code stable code
 * @param at when the doubtful thing happened
 * @param events the events that disagree, the doubtful one first
 * @param sentence what is doubtful and how it was read
 */
public record Remark(IssueCode code, Instant at, List<EventKey> events, String sentence) {
  public Remark {
    events = List.copyOf(events);
  }
}
