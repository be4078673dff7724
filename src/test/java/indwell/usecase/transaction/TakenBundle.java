package indwell.usecase.transaction;

import static org.assertj.core.api.Assertions.catchThrowableOfType;

import indwell.contract.SharedValidator;
import indwell.fhir.Told;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What becomes of the entries of a transaction in a store, after all that is told of. */
final class TakenBundle {
  private static final Instant NOW = Instant.parse("2026-04-10T12:00:00Z");

  private TakenBundle() {}

  static List<Answer> take(List<Entry> entries, ClinicalStore store) {
    return new RecordBundle(store, SharedValidator.WARM, SharedValidator.WARM, Told.BERLIN)
        .take(entries, Bundled.BASE, NOW, Origin.SERVICE, state -> "")
        .answers();
  }

  static Refused refusal(List<Entry> entries, ClinicalStore store) {
    return catchThrowableOfType(Refused.class, () -> take(entries, store));
  }

  static List<StoredResource> patients(ClinicalStore store) {
    return store.read(
        state ->
            state.search(
                new ResourceQuery("Patient", Set.of(), Set.of(), Set.of(), Optional.empty(), 9)));
  }
}
