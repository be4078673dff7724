package indwell.usecase;

import indwell.fhir.map.FhirJson;
import indwell.port.Audited;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources.Found;
import indwell.usecase.SearchResources.Total;
import indwell.usecase.audit.AuditEvents;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;

/** Finds rows of the audit trail, and gives them as AuditEvents. */
final class AuditSearch {
  private static final String TYPE = "AuditEvent";

  private AuditSearch() {}

  static Optional<StoredResource> read(Reading state, String id) {
    ResourceQuery query =
        new ResourceQuery(
            TYPE,
            Set.of(id),
            Set.of(),
            Set.of(),
            List.of(),
            SearchOrder.BY_ID,
            Optional.empty(),
            1);
    return state.audited(query).stream().map(AuditSearch::asStored).findFirst();
  }

  /**
   * One page; how many there are in all is said when it is asked for, since counting takes time.
   */
  static Found find(Reading state, ResourceQuery query, Total total) {
    List<Audited> found =
        query.limit() == 0
            ? List.of()
            : state.audited(query.page(query.afterId(), query.limit() + 1));
    List<Audited> page = found.subList(0, Math.min(query.limit(), found.size()));
    return new Found(
        page.stream().map(AuditSearch::asStored).toList(),
        found.size() > page.size(),
        total == Total.ACCURATE ? OptionalLong.of(state.countAudited(query)) : OptionalLong.empty(),
        page.isEmpty()
            ? OptionalLong.empty()
            : OptionalLong.of(key(query.order(), page.get(page.size() - 1))));
  }

  private static long key(SearchOrder order, Audited row) {
    return order.isById() ? 0 : row.entry().at().toEpochMilli();
  }

  private static StoredResource asStored(Audited row) {
    return new StoredResource(
        new ResourceKey(TYPE, row.id()),
        FlagResource.NO_VERSION,
        row.entry().at(),
        row.entry().patient().orElse(""),
        List.of(),
        FhirJson.encode(AuditEvents.of(row)));
  }
}
