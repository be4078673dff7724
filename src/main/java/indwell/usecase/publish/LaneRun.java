package indwell.usecase.publish;

import indwell.port.ClinicalStore;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;

/** Sends what waits in one lane, one resource after the other, until one of them goes wrong. */
final class LaneRun {
  private static final int MOST_AT_ONCE = 200;

  /** So often a resource is sent again of which the server says that it refers to nothing there. */
  private static final int REFERENCE_TRIES = 5;

  private final ClinicalStore store;
  private final Outbox outbox;
  private final Courier courier;
  private final Connection connection;
  private final Claims claims;
  private final Backoff backoff;
  private final Clock clock;
  private final BooleanSupplier mayGoOn;

  /**
   * Sends nothing yet.
   *
   * @param mayGoOn whether another request may begin
   */
  LaneRun(
      ClinicalStore store,
      Outbox outbox,
      Courier courier,
      Connection connection,
      Claims claims,
      Backoff backoff,
      Clock clock,
      BooleanSupplier mayGoOn) {
    this.store = store;
    this.outbox = outbox;
    this.courier = courier;
    this.connection = connection;
    this.claims = claims;
    this.backoff = backoff;
    this.clock = clock;
    this.mayGoOn = mayGoOn;
  }

  /**
   * Sends what it can; how many resources were taken. Nothing of a lane that is held: whoever asks
   * may have seen it free before an earlier run held it, and what a person releases meanwhile must
   * not be held again by a run that nobody was to begin.
   */
  int run(String lane) {
    Optional<LaneHold> held = outbox.held(lane);
    if (held.filter(hold -> hold.holds(clock.instant())).isPresent()) {
      return 0;
    }
    Load load = Load.of(store, outbox, outbox.waiting(lane, MOST_AT_ONCE));
    Set<ResourceKey> keys = load.resources().keySet();
    if (!claims.claim(keys)) {
      return 0;
    }
    try {
      return send(lane, load, held);
    } finally {
      claims.release(keys);
    }
  }

  /**
   * Holds a lane in which something of ours is wrong, so that it does not keep the others waiting.
   */
  void setAside(String lane) {
    int attempts = outbox.held(lane).map(LaneHold::attempts).orElse(0) + 1;
    Instant now = clock.instant();
    Instant nextTry = now.plus(backoff.after(attempts));
    outbox.hold(new LaneHold(lane, false, attempts, nextTry, "", "fault of ours", now));
  }

  /** What was taken is noted whatever happens: nobody sends it again for nothing. */
  private int send(String lane, Load load, Optional<LaneHold> held) {
    List<Publication> taken = new ArrayList<>();
    try {
      for (ResourceKey key : SendOrder.of(load.resources())) {
        if (!mayGoOn.getAsBoolean() || !connection.open(clock.instant())) {
          return taken.size();
        }
        UpstreamAnswer answer = courier.deliver(key, resource(load, key), load.known());
        if (answer.kind() != Kind.TAKEN) {
          failed(lane, key, load, answer, held);
          return taken.size();
        }
        connection.worked(clock.instant());
        Publication state = accepted(load, key, answer);
        load.known().put(key, state);
        taken.add(state);
      }
      if (held.isPresent()) {
        outbox.release(lane);
      }
      return taken.size();
    } finally {
      outbox.accepted(taken);
    }
  }

  private static org.hl7.fhir.r4.model.Resource resource(Load load, ResourceKey key) {
    return Optional.ofNullable(load.resources().get(key)).orElseThrow();
  }

  private static Publication accepted(Load load, ResourceKey key, UpstreamAnswer answer) {
    int version = Optional.ofNullable(load.stored().get(key)).orElseThrow().version();
    return new Publication(key, version, version, answer.id(), answer.version());
  }

  private void failed(
      String lane, ResourceKey key, Load load, UpstreamAnswer answer, Optional<LaneHold> held) {
    if (connection.failed(answer, clock.instant())) {
      return;
    }
    Optional<LaneHold> before = held.filter(one -> one.resource().equals(key.reference()));
    int attempts = before.map(LaneHold::attempts).orElse(0) + 1;
    Set<ResourceKey> missing = missing(load, key, answer);
    boolean byReference = !missing.isEmpty() && attempts < REFERENCE_TRIES;
    if (byReference) {
      outbox.again(missing);
    }
    boolean parked =
        switch (answer.kind()) {
          case UNKNOWN, CONFLICT, BUSY, NOT_FHIR, UNAUTHORISED, REDIRECTED, TAKEN -> false;
          case REFUSED, ABSENT -> !byReference;
        };
    outbox.hold(
        new LaneHold(
            lane,
            parked,
            attempts,
            clock.instant().plus(backoff.after(attempts)),
            key.reference(),
            answer.reason(),
            before.map(LaneHold::since).orElseGet(clock::instant)));
  }

  /** What the resource refers to and the server says, by its name, that it does not have. */
  private static Set<ResourceKey> missing(Load load, ResourceKey key, UpstreamAnswer answer) {
    boolean refused = answer.kind() == Kind.REFUSED || answer.kind() == Kind.CONFLICT;
    return load.references(key).stream()
        .filter(reference -> refused && answer.named().contains(theirs(load, reference)))
        .flatMap(reference -> SendOrder.key(reference).stream())
        .filter(other -> taken(load, other))
        .collect(Collectors.toSet());
  }

  /** Whether the server had it once; what a person has skipped stays out. */
  private static boolean taken(Load load, ResourceKey key) {
    return Optional.ofNullable(load.known().get(key))
        .filter(state -> !state.theirId().isEmpty())
        .isPresent();
  }

  private static String theirs(Load load, String reference) {
    return SendOrder.key(reference)
        .flatMap(
            key ->
                Optional.ofNullable(load.known().get(key))
                    .filter(state -> !state.theirId().isEmpty())
                    .map(state -> key.type() + "/" + state.theirId()))
        .orElse(reference);
  }
}
