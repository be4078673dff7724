package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.WardGroupMapper;
import indwell.fhir.term.Systems;
import indwell.port.ClinicalStore.Reading;
import indwell.port.Ordered;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources.Found;
import indwell.usecase.SearchResources.Total;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Location;

/**
 * The Groups of wards, which are worked out and not stored: the patients who were ever in a ward,
 * by the events that stand. A Group has the code of its ward for its id.
 */
public final class WardGroups {
  private static final String GROUP = "Group";

  private WardGroups() {}

  /** Whether there is a Group with that id. */
  public static boolean exists(Reading state, String id) {
    return state.knowsWard(new Ward(id));
  }

  /** Ids of the patients in a Group, ascending; those who have left the ward among them. */
  public static SortedSet<String> members(Reading state, String id) {
    return new TreeSet<>(state.patientsInWards(Set.of(new Ward(id)), Instant.MIN, Instant.MAX));
  }

  /** The Group with that id, as of now. */
  static Optional<StoredResource> read(Reading state, String id, Instant now) {
    return exists(state, id) ? Optional.of(group(state, id, now)) : Optional.empty();
  }

  /** The page of a search. */
  static Found find(Reading state, ResourceQuery query, Total total, Instant now) {
    List<String> all =
        candidates(state, query).stream()
            .filter(id -> isMet(query, id))
            .filter(id -> exists(state, id))
            .toList();
    List<Ordered<String>> page =
        Ordered.page(
            all.stream().map(id -> new Ordered<>(0, id, id)),
            query.page(query.afterId(), query.limit() + 1));
    List<Ordered<String>> shown = page.subList(0, Math.min(query.limit(), page.size()));
    return new Found(
        shown.stream().map(one -> group(state, one.id(), now)).toList(),
        query.limit() > 0 && page.size() > query.limit(),
        total == Total.NONE ? OptionalLong.empty() : OptionalLong.of(all.size()),
        shown.isEmpty() ? OptionalLong.empty() : OptionalLong.of(0));
  }

  private static Collection<String> candidates(Reading state, ResourceQuery query) {
    return query.ids().isEmpty()
        ? state.locations().stream().map(ward -> ward.key().id()).toList()
        : query.ids();
  }

  private static boolean isMet(ResourceQuery query, String id) {
    return query.isMetBy(new ResourceKey(GROUP, id), "", identifiers(id), 0, List.of());
  }

  private static List<String> identifiers(String id) {
    return List.of(Systems.WARD + "|" + id);
  }

  private static StoredResource group(Reading state, String id, Instant now) {
    Ward ward = new Ward(id);
    // A stay that ends now is over, one that begins now is there.
    Instant next = now.plusMillis(1);
    Set<String> present = state.patientsInWards(Set.of(ward), next, next);
    return new StoredResource(
        new ResourceKey(GROUP, id),
        FlagResource.NO_VERSION,
        now,
        "",
        identifiers(id),
        FhirJson.encode(WardGroupMapper.of(ward, name(state, id), members(state, id), present)));
  }

  private static String name(Reading state, String id) {
    return state
        .resource(new ResourceKey("Location", id))
        .map(stored -> ((Location) FhirJson.parse(stored.json())).getName())
        .orElse(id);
  }
}
