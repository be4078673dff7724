package indwell.usecase.sent;

import indwell.domain.event.BusinessId;
import indwell.usecase.sent.SentResource.Link;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Where the references between resources that were sent lead. Nothing else is looked at, least of
 * all the store.
 *
 * <p>Source: https://hl7.org/fhir/R4/bundle.html#references, with two additions: a line of NDJSON
 * has no address but its type and id, and a reference may be a search by identifier, as in a
 * transaction, or a logical one.
 */
final class SentIndex {
  private static final String QUERY = "?identifier=";

  private final Map<String, SentResource> byKey = new HashMap<>();

  /** Those with an address elsewhere, by type and id. */
  private final Map<String, List<SentResource>> byTail = new HashMap<>();

  private final Map<BusinessId, List<SentResource>> byIdentifier = new HashMap<>();

  SentIndex(Collection<SentResource> all) {
    for (SentResource sent : all) {
      byKey.put(sent.key(), sent);
      if (sent.key().contains(":")) {
        sent.id()
            .ifPresent(
                id ->
                    byTail
                        .computeIfAbsent(sent.type() + "/" + id, tail -> new ArrayList<>())
                        .add(sent));
      }
      sent.identifiers()
          .forEach(id -> byIdentifier.computeIfAbsent(id, one -> new ArrayList<>()).add(sent));
    }
  }

  /** The resource that a link leads to. */
  Optional<SentResource> lead(SentResource from, Link link) {
    if (link.url().isEmpty()) {
      return link.identifier().flatMap(identifier -> only(with(identifier)));
    }
    int query = link.url().indexOf(QUERY);
    if (query > 0) {
      return matching(link.url().substring(0, query), link.url().substring(query + QUERY.length()));
    }
    String plain = withoutVersion(link.url());
    return find(plain)
        .or(() -> root(from).flatMap(root -> find(root + plain)))
        .or(() -> only(byTail.getOrDefault(plain, List.of())))
        .or(() -> tail(plain).flatMap(this::find));
  }

  private Optional<SentResource> find(String key) {
    return Optional.ofNullable(byKey.get(key));
  }

  /** What a relative reference is relative to. */
  private static Optional<String> root(SentResource from) {
    int tail = from.key().lastIndexOf("/" + from.type() + "/");
    return from.key().startsWith("http") && tail > 0
        ? Optional.of(from.key().substring(0, tail + 1))
        : Optional.empty();
  }

  /** Type and id of an absolute address, for lines that have no other. */
  private static Optional<String> tail(String url) {
    String[] parts = url.split("/", -1);
    return url.startsWith("http") && parts.length > 4
        ? Optional.of(parts[parts.length - 2] + "/" + parts[parts.length - 1])
        : Optional.empty();
  }

  private Optional<SentResource> matching(String type, String query) {
    String token;
    try {
      token = URLDecoder.decode(query, StandardCharsets.UTF_8);
    } catch (IllegalArgumentException broken) {
      return Optional.empty();
    }
    int bar = token.indexOf('|');
    return bar < 0
        ? Optional.empty()
        : only(
            with(new BusinessId(token.substring(0, bar), token.substring(bar + 1))).stream()
                .filter(sent -> sent.type().equals(type))
                .toList());
  }

  private List<SentResource> with(BusinessId identifier) {
    return byIdentifier.getOrDefault(identifier, List.of());
  }

  private static Optional<SentResource> only(List<SentResource> found) {
    return found.size() == 1 ? Optional.of(found.get(0)) : Optional.empty();
  }

  /** An address without the version that it names. */
  static String withoutVersion(String url) {
    int history = url.indexOf("/_history/");
    return history < 0 ? url : url.substring(0, history);
  }
}
