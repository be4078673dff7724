package indwell.intake;

import indwell.domain.event.EventType;
import indwell.domain.event.EventVersion;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Makes an event of a tree, or tells everything that is wrong with it at once. Looks at the one
 * event and the clock only, never at other events.
 */
public final class EventReader {
  private EventReader() {}

  /**
   * Reads an event as it was sent.
   *
   * @param tree the event's object, as the gate made it
   * @param findings what the gate found in it; any of them refuses the event
   * @param now the service's clock
   */
  public static Reading read(Map<?, ?> tree, List<GateFinding> findings, Instant now) {
    Faults faults = new Faults(findings);
    EnvelopeReader envelope = EnvelopeReader.read(tree, TimeLimits.at(now), faults);
    Optional<EventMaker> maker = maker(envelope, TimeLimits.at(now), faults);
    if (faults.any()) {
      return refused(envelope, faults);
    }
    EventType type = envelope.type().orElseThrow();
    return new Reading.Accepted(
        version(envelope, maker.orElseThrow()), CanonicalText.of(tree, type));
  }

  /**
   * Reads back what {@link Reading.Accepted#canonical()} gave, without asking the clock, or whether
   * a system that was taken for a URI then would be taken now.
   *
   * @throws IllegalArgumentException when the text is no canonical event
   */
  public static EventVersion fromCanonical(String canonical) {
    byte[] bytes = canonical.getBytes(StandardCharsets.UTF_8);
    if (!(JsonGate.read(bytes, EventBodies.SINGLE) instanceof GateResult.Tree tree)
        || !(tree.root() instanceof Map<?, ?> fields)) {
      throw new IllegalArgumentException("A stored event is no JSON object");
    }
    Faults faults = new Faults(tree.findings());
    EnvelopeReader envelope = EnvelopeReader.read(fields, TimeLimits.ofStored(), faults);
    Optional<EventMaker> maker = maker(envelope, TimeLimits.ofStored(), faults);
    faults.issues().stream()
        .map(Issue::code)
        .filter(code -> code != IssueCode.NOT_AN_ABSOLUTE_URI)
        .findFirst()
        .ifPresent(
            code -> {
              throw new IllegalArgumentException(
                  "A stored event cannot be read back: " + code.code());
            });
    return version(envelope, maker.orElseThrow());
  }

  private static Optional<EventMaker> maker(
      EnvelopeReader envelope, TimeLimits limits, Faults faults) {
    if (envelope.type().isEmpty() || envelope.details().isEmpty()) {
      return Optional.empty();
    }
    DetailsReader reader =
        new DetailsReader(envelope.details().get(), limits, envelope.occurredAt(), faults);
    return Optional.of(reader.read(envelope.type().get()));
  }

  private static EventVersion version(EnvelopeReader envelope, EventMaker maker) {
    return envelope.withdrawn()
        ? new EventVersion.Withdrawn(
            envelope.key(),
            envelope.version().orElseThrow(),
            envelope.type().orElseThrow(),
            envelope.patient().orElseThrow(),
            envelope.recorder())
        : new EventVersion.Stated(maker.make(envelope.value(), envelope.encounter()));
  }

  private static Reading refused(EnvelopeReader envelope, Faults faults) {
    OptionalInt version = envelope.version().stream().mapToInt(Integer::intValue).findFirst();
    return new Reading.Refused(envelope.source(), envelope.eventId(), version, faults.issues());
  }
}
