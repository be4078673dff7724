package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.List;

/** Makes remarks of the events they are about. */
final class Remarking {
  private Remarking() {}

  static Remark of(IssueCode code, String sentence, BedsideEvent doubtful, BedsideEvent... others) {
    List<EventKey> keys = new ArrayList<>();
    keys.add(doubtful.key());
    for (BedsideEvent other : others) {
      keys.add(other.key());
    }
    return new Remark(code, doubtful.at(), keys, sentence);
  }
}
