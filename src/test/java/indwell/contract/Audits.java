package indwell.contract;

import indwell.domain.event.EventKey;
import indwell.fhir.map.ResourceId;
import indwell.port.AuditEntry;
import indwell.port.Audited;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.SearchOrder;
import indwell.usecase.audit.AuditTrail;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.stream.Collectors;

/** The audit trail of a store, for whoever has to look at all of it. */
public final class Audits {
  private Audits() {}

  /** All rows, in the order in which they were written. */
  public static List<AuditEntry> all(ClinicalStore store) {
    ResourceQuery all =
        new ResourceQuery(
            "AuditEvent",
            Set.of(),
            Set.of(),
            Set.of(),
            List.of(),
            SearchOrder.BY_ID,
            Optional.empty(),
            Integer.MAX_VALUE);
    return store.read(state -> state.audited(all)).stream().map(Audited::entry).toList();
  }

  /** The events that were acknowledged and have no row: none, whatever has happened. */
  public static List<EventKey> without(ClinicalStore store, Collection<EventKey> acknowledged) {
    Set<String> told =
        all(store).stream().flatMap(row -> row.entity().stream()).collect(Collectors.toSet());
    return acknowledged.stream()
        .filter(key -> !told.contains(ResourceId.ofEvent("Provenance", key).text()))
        .toList();
  }

  /** Writes each row at once, so that it is there when the answer is. */
  public static AuditTrail into(ClinicalStore store) {
    return new AuditTrail() {
      @Override
      public boolean hasRoom() {
        return true;
      }

      @Override
      public CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise) {
        store.write(
            tx -> {
              tx.audit(rows);
              return true;
            });
        return CompletableFuture.completedStage(true);
      }
    };
  }
}
