package indwell.usecase.sent;

import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.fhir.map.MappingContext;
import indwell.port.ProfileValidator;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDays.Question;
import indwell.usecase.DeviceDays.Table;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Counts the device days of resources that somebody sends: nothing is read from the store, and
 * nothing is written. They are read as a transaction would read them, so the answer is the one that
 * would come if they had been stored.
 */
public final class CountSent {
  private final DeviceDays deviceDays;
  private final ProfileValidator validator;
  private final MappingContext context;

  public CountSent(DeviceDays deviceDays, ProfileValidator validator, MappingContext context) {
    this.deviceDays = deviceDays;
    this.validator = validator;
    this.context = context;
  }

  /**
   * How it is to be counted.
   *
   * @param explained whether to say who counted and by which events
   * @param lenient whether to count without what cannot be read, and to say so
   */
  public record Wish(Question question, boolean explained, boolean lenient) {}

  /** What came of it. */
  public sealed interface Answer permits Counted, Refused, Unreadable {}

  /**
   * It was counted.
   *
   * @param locations of the wards as JSON
   * @param issues what was passed over or is doubtful
   * @param names how resources were called where they were sent, by what they are called here;
   *     those that are called the same are left out
   */
  public record Counted(
      Table table, Map<Ward, String> locations, List<Issue> issues, Map<String, String> names)
      implements Answer {}

  /** The question cannot be answered. */
  public record Refused(Issue issue) implements Answer {}

  /** Something was sent that cannot be read. */
  public record Unreadable(List<Issue> issues) implements Answer {}

  /**
   * Counts.
   *
   * @param now as for events: what lies ahead of it is refused
   */
  public Answer count(SentResources sent, Wish wish, Instant now) {
    EventsOfSent read = new EventsOfSent(sent, new Doubts(validator, context), now);
    read.all();
    Unread unread = sent.unread();
    if (!unread.isReadable() && !wish.lenient()) {
      return new Unreadable(unread.refusals());
    }
    Question own = own(wish.question(), read);
    return deviceDays
        .countSent(read.events(), own, wish.explained(), now)
        .fold(table -> counted(table, read, unread), Refused::new);
  }

  /** A patient may be asked for by the id that was sent. */
  private static Question own(Question asked, EventsOfSent read) {
    return new Question(
        asked.ward(), asked.start(), asked.endInclusive(), asked.patientId().map(read::ownPatient));
  }

  private static Answer counted(Table table, EventsOfSent read, Unread unread) {
    Map<Ward, String> locations = new HashMap<>();
    table.counts().keySet().forEach(ward -> locations.put(ward, read.location(ward)));
    return new Counted(table, locations, unread.warnings(), read.names());
  }
}
