package indwell.usecase.sent;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.bundle.TakenProfile.Role;
import indwell.intake.GateFinding;
import indwell.intake.GateLimits;
import indwell.intake.GateResult;
import indwell.intake.JsonGate;
import indwell.usecase.ReadResources;
import indwell.usecase.sent.Verdict.Unreadable;
import indwell.usecase.transaction.Words;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.ResourceType;

/**
 * Resources that are sent to be counted, one after the other. Of each address the latest version is
 * kept, in the order of the addresses' first appearance; what says nothing that is counted is not.
 * Not for use by several threads at once.
 */
public final class SentResources {
  /** Bytes of one resource. */
  public static final int MAX_RESOURCE_BYTES = 1 << 20;

  /** No R4 resource nests deeper by itself. */
  private static final GateLimits LIMITS = GateLimits.forOneDocument(100, MAX_RESOURCE_BYTES);

  /** Types that are made of the others, or of events: nothing is counted from them. */
  private static final Set<String> MADE_OF_OTHERS =
      Set.of("Provenance", "Flag", "MeasureReport", "Measure", "List", "Group", "OperationOutcome");

  /** Types that hold other resources, which must not be passed over with them. */
  private static final Set<String> HOLDERS = Set.of("Bundle", "Parameters");

  private static final Set<String> TYPES_OF_R4 =
      Arrays.stream(ResourceType.values()).map(ResourceType::name).collect(Collectors.toSet());

  private final Map<String, SentResource> byKey = new LinkedHashMap<>();
  private final Unread unread = new Unread();
  private int number;
  private long kept;

  /** Takes one that is too large to be read. */
  public void addTooLarge(Place place) {
    unread.add(
        place.words(),
        Issue.error(
            IssueCode.TOO_MUCH_SENT,
            place.at(""),
            "The resource is larger than "
                + MAX_RESOURCE_BYTES
                + " bytes; expected at most that."));
  }

  /** Takes an entry without a resource. */
  public void addNothing(Place place) {
    unread.add(
        place.words(),
        Issue.error(
            IssueCode.BAD_COLLECTION,
            place.at(""),
            "The entry has no resource; expected one to be counted."));
  }

  /**
   * Takes a resource.
   *
   * @param fullUrl of its entry
   */
  public void add(Place place, Optional<String> fullUrl, byte[] json) {
    number++;
    GateResult gate = JsonGate.read(json, LIMITS);
    if (gate instanceof GateResult.Stopped stopped) {
      unread.add(place.words(), Issue.error(stopped.code(), place.at(""), stopped.sentence()));
      return;
    }
    GateResult.Tree tree = (GateResult.Tree) gate;
    if (!tree.findings().isEmpty()) {
      GateFinding first = tree.findings().get(0);
      unread.add(place.words(), Issue.error(first.code(), place.at(""), first.sentence()));
    } else if (tree.root() instanceof Map<?, ?> resource
        && resource.get("resourceType") instanceof String type) {
      add(place, type, fullUrl, json);
    } else {
      unread.add(
          place.words(),
          Issue.error(
              IssueCode.BAD_RESOURCE,
              place.at(""),
              "This is no FHIR resource; expected an object with a resourceType."));
    }
  }

  private void add(Place place, String type, Optional<String> fullUrl, byte[] json) {
    if (ReadResources.TYPES.contains(type) && !MADE_OF_OTHERS.contains(type)) {
      put(SentReader.read(number, place, type, fullUrl.map(SentIndex::withoutVersion), json));
    } else if (HOLDERS.contains(type)) {
      unread.add(
          place.words(),
          Issue.error(
              IssueCode.BAD_COLLECTION,
              place.at(""),
              "A " + type + " stands among the resources; expected what is in it."));
    } else if (!TYPES_OF_R4.contains(type)) {
      unread.add(
          place.words(),
          Issue.error(
              IssueCode.BAD_RESOURCE,
              place.at(""),
              "Type " + Words.shown(type) + " is none of FHIR R4; expected one of its types."));
    } else if (!MADE_OF_OTHERS.contains(type)) {
      unread.passOver(type);
    }
  }

  private void put(SentResource sent) {
    SentResource before = byKey.get(sent.key());
    if (before == null) {
      keep(sent);
      return;
    }
    Optional<Boolean> later = sent.isLaterThan(before);
    if (later.isPresent()) {
      if (later.get()) {
        keep(sent);
      }
    } else if (!isSame(before, sent)) {
      keep(before.judged(new Unreadable(List.of(twice(before, sent)))));
    }
  }

  private void keep(SentResource sent) {
    SentResource before = byKey.put(sent.key(), sent);
    kept += sent.cost() - (before == null ? 0 : before.cost());
  }

  private static boolean isSame(SentResource one, SentResource two) {
    if (one.json().length == 0 || two.json().length == 0) {
      return one.verdict().getClass().equals(two.verdict().getClass());
    }
    return Arrays.equals(one.json(), two.json()) || tree(one).equals(tree(two));
  }

  private static Object tree(SentResource sent) {
    return JsonGate.read(sent.json(), LIMITS) instanceof GateResult.Tree tree
        ? tree.root()
        : sent.key();
  }

  private static Issue twice(SentResource before, SentResource sent) {
    return Issue.error(
        IssueCode.SENT_DIFFERENTLY,
        before.type(),
        "The resource stands at "
            + sent.place().words()
            + " as well, with other content, and no meta.versionId or meta.lastUpdated says which"
            + " is later; expected it once.");
  }

  /** Bytes that are held for what has been taken so far. */
  public long keptBytes() {
    return kept;
  }

  Collection<SentResource> all() {
    return byKey.values();
  }

  Unread unread() {
    return unread;
  }

  /** Whether events are read from a resource of that profile. */
  static boolean tellsEvents(TakenProfile profile) {
    return profile.role() == Role.MAIN || profile.role() == Role.MOVEMENTS;
  }
}
