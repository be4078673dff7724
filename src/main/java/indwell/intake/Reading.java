package indwell.intake;

import indwell.domain.event.EventVersion;
import indwell.domain.refusal.Issue;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** What was read of one event. */
public sealed interface Reading permits Reading.Accepted, Reading.Refused {

  /**
   * An event that can be true.
   *
   * @param canonical its content as canonical JSON; two versions have the same content if and only
   *     if these texts are equal
   */
  record Accepted(EventVersion version, String canonical) implements Reading {}

  /**
   * An event that cannot be read, or cannot be true in itself.
   *
   * @param source if it could be read
   * @param eventId if it could be read
   * @param version if it could be read; 1 when the event named none
   * @param issues all faults, at least one
   */
  record Refused(
      Optional<String> source, Optional<String> eventId, OptionalInt version, List<Issue> issues)
      implements Reading {
    public Refused {
      issues = List.copyOf(issues);
    }

    /** Refuses something of which no field could be read. */
    static Refused unread(List<Issue> issues) {
      return new Refused(Optional.empty(), Optional.empty(), OptionalInt.empty(), issues);
    }
  }
}
