package indwell.usecase.publish;

import indwell.fhir.publish.Outgoing;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.Upstream;
import indwell.port.Upstream.Sending;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.Resource;

/**
 * Sends one resource, and settles what the other server finds wrong with the version that it was
 * thought to have: what is recorded here is put over what is there, and that is counted.
 */
final class Courier {
  private static final int MOST_TRIES = 3;

  private final Upstream upstream;
  private final Addressing addressing;
  private final AtomicLong settled = new AtomicLong();

  Courier(Upstream upstream, Addressing addressing) {
    this.upstream = upstream;
    this.addressing = addressing;
  }

  /** How often something else was there that was put over. */
  long settled() {
    return settled.get();
  }

  /** The last answer; one that says taken has the id that the resource has there. */
  UpstreamAnswer deliver(ResourceKey key, Resource resource, Map<ResourceKey, Publication> known) {
    Sending sending = addressing.sending(key, resource, known);
    UpstreamAnswer answer = upstream.put(sending);
    for (int tries = 1; tries < MOST_TRIES && disputed(answer, sending); tries++) {
      if (sending.id().isEmpty()) {
        answer = upstream.put(sending);
      } else {
        UpstreamAnswer there = upstream.read(key.type(), sending.id());
        if (there.kind() != Kind.TAKEN && there.kind() != Kind.ABSENT) {
          return there;
        }
        if (says(there, sending)) {
          return identified(there, sending, key);
        }
        sending = there.kind() == Kind.ABSENT ? anew(key, resource, known) : over(sending, there);
        answer = upstream.put(sending);
        if (answer.kind() == Kind.TAKEN && there.kind() == Kind.TAKEN) {
          settled.incrementAndGet();
        }
      }
    }
    return answer.kind() == Kind.TAKEN ? identified(answer, sending, key) : answer;
  }

  /** What is absent is disputed only when it was thought to be there. */
  private static boolean disputed(UpstreamAnswer answer, Sending sending) {
    return answer.kind() == Kind.CONFLICT
        || (answer.kind() == Kind.ABSENT && !sending.ifVersion().isEmpty());
  }

  private static boolean says(UpstreamAnswer there, Sending sending) {
    return there
        .resource()
        .filter(one -> Outgoing.sameContent(one, sending.resource()))
        .isPresent();
  }

  private static Sending over(Sending sending, UpstreamAnswer there) {
    return new Sending(sending.resource(), sending.id(), sending.criterion(), there.version());
  }

  private Sending anew(ResourceKey key, Resource resource, Map<ResourceKey, Publication> known) {
    Map<ResourceKey, Publication> others = new java.util.HashMap<>(known);
    others.remove(key);
    return addressing.sending(key, resource, others);
  }

  /** Adds the id that the resource has there, and asks for it when nobody said. */
  private UpstreamAnswer identified(UpstreamAnswer answer, Sending sending, ResourceKey key) {
    if (!sending.id().isEmpty()) {
      return withId(answer, sending.id());
    }
    if (!answer.id().isEmpty()) {
      return answer;
    }
    UpstreamAnswer found = upstream.search(key.type(), sending.criterion());
    if (found.kind() != Kind.TAKEN) {
      return found;
    }
    return only(found)
        .map(id -> withId(answer, id))
        .orElseGet(() -> UpstreamAnswer.without(Kind.REFUSED, found.status(), "not-one-match"));
  }

  private static Optional<String> only(UpstreamAnswer found) {
    return found
        .resource()
        .filter(Bundle.class::isInstance)
        .map(one -> ((Bundle) one).getEntry())
        .filter(entries -> entries.size() == 1)
        .map(entries -> entries.get(0).getResource().getIdElement().getIdPart());
  }

  private static UpstreamAnswer withId(UpstreamAnswer answer, String id) {
    return new UpstreamAnswer(
        Kind.TAKEN,
        answer.status(),
        answer.codes(),
        answer.retryAfter(),
        answer.named(),
        id,
        answer.version(),
        answer.resource());
  }
}
