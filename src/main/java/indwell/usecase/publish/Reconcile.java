package indwell.usecase.publish;

import indwell.fhir.publish.Outgoing;
import indwell.fhir.term.Systems;
import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.port.Upstream;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import indwell.usecase.ReadResources;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.Resource;

/**
 * Compares what is recorded here with what another server has. Of types that other systems write as
 * well nobody can say what is too much there; of those that events alone make, what carries an
 * identifier of an event.
 */
public final class Reconcile {
  private static final int PAGE = 200;
  private static final int TRIES = 3;

  /** Types that events alone make, each resource with the event for identifier. */
  private static final Set<String> OF_EVENTS =
      Set.of("Procedure", "DeviceUseStatement", "Observation", "Specimen");

  private final ClinicalStore store;
  private final Outbox outbox;
  private final Upstream upstream;
  private final Addressing addressing;

  /** In which way the two differ. */
  public enum Difference {
    /** The other server does not have it. */
    MISSING,
    /** The other server has it with another content. */
    DIFFERENT,
    /** It is not recorded here. */
    EXTRA
  }

  /**
   * One difference.
   *
   * @param reference the reference here; that of the other server for what is extra
   * @param waiting whether it waits to be sent
   */
  public record Finding(Difference difference, String reference, boolean waiting) {}

  /** The other server did not answer as it has to. */
  public static final class Unanswered extends RuntimeException {
    private static final long serialVersionUID = 1L;

    Unanswered(UpstreamAnswer answer) {
      super("The other server answered " + answer.reason() + "; expected resources.");
    }
  }

  public Reconcile(ClinicalStore store, Outbox outbox, Upstream upstream, Addressing addressing) {
    this.store = store;
    this.outbox = outbox;
    this.upstream = upstream;
    this.addressing = addressing;
  }

  /**
   * Compares everything, type by type.
   *
   * @return how many resources are recorded here
   * @throws Unanswered if the other server does not answer
   */
  public long compare(Consumer<Finding> findings) {
    long compared = 0;
    for (String type : ReadResources.TYPES) {
      Set<String> expected = new HashSet<>();
      compared += ours(type, expected, findings);
      if (OF_EVENTS.contains(type)) {
        extra(type, expected, findings);
      }
    }
    return compared;
  }

  private long ours(String type, Set<String> expected, Consumer<Finding> findings) {
    long compared = 0;
    Optional<String> after = Optional.empty();
    List<StoredResource> page;
    do {
      ResourceQuery query = new ResourceQuery(type, Set.of(), Set.of(), Set.of(), after, PAGE);
      page = store.read(state -> state.search(query));
      for (StoredResource one : page) {
        compare(one, expected, findings);
        after = Optional.of(one.key().id());
      }
      compared += page.size();
    } while (page.size() == PAGE);
    return compared;
  }

  private void compare(StoredResource ours, Set<String> expected, Consumer<Finding> findings) {
    Resource resource = Outgoing.of(ours.json());
    Set<ResourceKey> keys =
        Outgoing.references(resource).stream()
            .flatMap(reference -> SendOrder.key(reference).stream())
            .collect(Collectors.toSet());
    keys.add(ours.key());
    Map<ResourceKey, Publication> known = outbox.known(keys);
    Optional<Publication> state = Optional.ofNullable(known.get(ours.key()));
    boolean waiting = state.filter(one -> one.sentVersion() >= ours.version()).isEmpty();
    String id = addressing.id(ours.key(), state);
    expected.add(id);
    Optional<Resource> theirs = id.isEmpty() ? Optional.empty() : read(ours.key().type(), id);
    Resource addressed = Outgoing.addressed(resource, addressing.references(known));
    String reference = ours.key().reference();
    if (theirs.isEmpty()) {
      findings.accept(new Finding(Difference.MISSING, reference, waiting));
    } else if (!Outgoing.sameContent(addressed, theirs.get())) {
      findings.accept(new Finding(Difference.DIFFERENT, reference, waiting));
    }
  }

  private Optional<Resource> read(String type, String id) {
    UpstreamAnswer answer = answered(() -> upstream.read(type, id));
    return answer.kind() == Kind.ABSENT ? Optional.empty() : answer.resource();
  }

  private void extra(String type, Set<String> expected, Consumer<Finding> findings) {
    String ofEvents =
        "identifier=" + URLEncoder.encode(Systems.EVENT + "|", StandardCharsets.UTF_8);
    UpstreamAnswer page = answered(() -> upstream.search(type, ofEvents + "&_count=" + PAGE));
    while (page.resource().filter(Bundle.class::isInstance).isPresent()) {
      Bundle bundle = (Bundle) page.resource().orElseThrow();
      for (Bundle.BundleEntryComponent entry : bundle.getEntry()) {
        String id = entry.getResource().getIdElement().getIdPart();
        boolean match = entry.getResource().fhirType().equals(type);
        if (match && expected.add(id)) {
          findings.accept(new Finding(Difference.EXTRA, type + "/" + id, false));
        }
      }
      Bundle.BundleLinkComponent next = bundle.getLink("next");
      if (next == null) {
        return;
      }
      page = answered(() -> upstream.page(next.getUrl()));
    }
  }

  /** A few times, since asking changes nothing. */
  private static UpstreamAnswer answered(java.util.function.Supplier<UpstreamAnswer> question) {
    UpstreamAnswer answer = question.get();
    for (int tries = 1; tries < TRIES && passing(answer.kind()); tries++) {
      answer = question.get();
    }
    if (answer.kind() != Kind.TAKEN && answer.kind() != Kind.ABSENT) {
      throw new Unanswered(answer);
    }
    return answer;
  }

  private static boolean passing(Kind kind) {
    return kind == Kind.UNKNOWN || kind == Kind.BUSY;
  }
}
