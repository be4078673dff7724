package indwell.usecase.transaction;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.PatientResources;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.Systems;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Reference;

/**
 * Where the references between the entries of a Bundle, and from them into the store, lead (FHIR
 * R4, bundle.html#references and http.html#transaction).
 */
final class References {
  private final Known known;
  private final List<Sent> all;
  private final Map<String, Sent> byFullUrl = new HashMap<>();
  private final String base;
  private final Map<Integer, Identity> identities;

  /**
   * @param identities by entry; grows while the entries are identified
   */
  References(Known known, List<Sent> all, String base, Map<Integer, Identity> identities) {
    this.known = known;
    this.all = List.copyOf(all);
    this.base = base;
    this.identities = identities;
    all.forEach(sent -> sent.entry().fullUrl().ifPresent(url -> byFullUrl.put(url, sent)));
  }

  /**
   * The resource that a reference leads to.
   *
   * @return empty for one without a URL and for one that leads elsewhere
   * @throws Refused for one that has to lead into the Bundle or the store and does not
   */
  Optional<ResourceId> lead(Sent from, Reference reference) {
    String url = reference.getReference();
    if (url == null || url.startsWith("#")) {
      return Optional.empty();
    }
    String plain = withoutVersion(url);
    Optional<Sent> entry =
        Optional.ofNullable(byFullUrl.get(plain))
            .or(() -> root(from).map(root -> byFullUrl.get(root + plain)));
    if (entry.isPresent()) {
      return Optional.ofNullable(identities.get(entry.get().entry().index())).map(Identity::id);
    }
    if (plain.startsWith("urn:")) {
      throw unresolved(from, url);
    }
    String relative = Target.relative(plain, base);
    int mark = relative.indexOf('?');
    return mark > 0 && relative.indexOf(':') > mark
        ? Optional.of(match(from, relative.substring(0, mark), relative.substring(mark + 1)))
        : literal(relative);
  }

  private static Optional<ResourceId> literal(String relative) {
    String[] parts = relative.split("/", -1);
    boolean isOurs = parts.length == 2 && !TakenProfile.ofType(parts[0]).isEmpty();
    return isOurs ? Optional.of(new ResourceId(parts[0], parts[1])) : Optional.empty();
  }

  /** The one resource, of the Bundle or the store, that has that identifier. */
  private ResourceId match(Sent from, String type, String query) {
    Token token = Target.condition(from.entry(), "resource", query);
    Set<ResourceId> found = new LinkedHashSet<>(matching(type, token));
    for (Sent sent : all) {
      Identity identity = identities.get(sent.entry().index());
      if (identity != null
          && sent.resource().fhirType().equals(type)
          && SentIdentifiers.of(sent.resource()).contains(token)) {
        found.add(identity.id());
      }
    }
    if (found.size() != 1) {
      throw from.entry()
          .refused(
              412,
              IssueCode.NO_SINGLE_MATCH,
              "resource",
              "Reference "
                  + Words.shown(type + "?" + query)
                  + " matches "
                  + (found.isEmpty() ? "nothing" : "more than one resource")
                  + "; expected exactly one.");
    }
    return found.iterator().next();
  }

  /** Live resources of the store with that identifier, or made of one with it. */
  Set<ResourceId> matching(String type, Token token) {
    Token own =
        type.equals("Device") && !token.system().equals(Systems.CATHETER)
            ? new Token(Systems.CATHETER, token.value())
            : token;
    Set<ResourceId> found = new LinkedHashSet<>(known.with(type, own));
    boolean isOfEvent = Set.of("Procedure", "Observation", "Specimen").contains(type);
    if (isOfEvent && !token.isEvent()) {
      ResourceId derived = ResourceId.ofEvent(type, token.event(type));
      if (known.isLive(derived)) {
        found.add(derived);
      }
    }
    return found;
  }

  /** The entry that is that resource. */
  Optional<Sent> sentAs(ResourceId id) {
    return all.stream()
        .filter(
            sent ->
                Optional.ofNullable(identities.get(sent.entry().index()))
                    .filter(identity -> identity.id().equals(id))
                    .isPresent())
        .findFirst();
  }

  /** Whether a resource, of the Bundle or the store, is of that profile. */
  boolean profileOf(ResourceId id, TakenProfile profile) {
    return sentAs(id)
        .map(sent -> sent.profile() == profile)
        .orElseGet(
            () ->
                known
                    .resource(id)
                    .filter(one -> PatientResources.claims(one, profile.canonical()))
                    .isPresent());
  }

  private static String withoutVersion(String url) {
    int history = url.indexOf("/_history/");
    return history < 0 ? url : url.substring(0, history);
  }

  /** What a relative reference in an entry with a RESTful fullUrl is relative to. */
  private static Optional<String> root(Sent from) {
    String suffix = "/" + from.resource().fhirType() + "/";
    return from.entry()
        .fullUrl()
        .filter(url -> url.startsWith("http") && url.contains(suffix))
        .map(url -> url.substring(0, url.lastIndexOf(suffix) + 1));
  }

  private static Refused unresolved(Sent from, String url) {
    return from.entry()
        .refused(
            422,
            IssueCode.UNRESOLVED_REFERENCE,
            "resource",
            "Reference "
                + Words.shown(url)
                + " leads to no entry of the Bundle; expected the fullUrl of one.");
  }
}
