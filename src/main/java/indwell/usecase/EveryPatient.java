package indwell.usecase;

import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Every patient that the store knows. */
final class EveryPatient {
  private static final int PAGE = 1_000;

  private EveryPatient() {}

  /** Their ids, ascending. */
  static Set<String> ids(Reading state) {
    Set<String> ids = new LinkedHashSet<>();
    Optional<String> last = Optional.empty();
    List<StoredResource> page;
    do {
      page = state.search(new ResourceQuery("Patient", Set.of(), Set.of(), Set.of(), last, PAGE));
      page.forEach(patient -> ids.add(patient.key().id()));
      last = page.isEmpty() ? last : Optional.of(page.get(page.size() - 1).key().id());
    } while (page.size() == PAGE);
    return ids;
  }
}
