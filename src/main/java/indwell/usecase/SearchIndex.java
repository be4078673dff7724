package indwell.usecase;

import indwell.fhir.map.FhirJson;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Makes a store that an older release wrote searchable by all that this release searches by. */
public final class SearchIndex {
  private static final int BATCH = 200;

  private final ClinicalStore store;

  public SearchIndex(ClinicalStore store) {
    this.store = store;
  }

  /** Reads every resource anew if that has not been done for this release; else does nothing. */
  public void bringUpToDate() {
    if (store.read(Reading::searchVersion) >= SearchValues.VERSION) {
      return;
    }
    ReadResources.TYPES.forEach(this::read);
    store.write(
        tx -> {
          tx.searchVersion(SearchValues.VERSION);
          return true;
        });
  }

  private void read(String type) {
    Optional<String> last = Optional.empty();
    List<StoredResource> page;
    do {
      Optional<String> after = last;
      ResourceQuery query = new ResourceQuery(type, Set.of(), Set.of(), Set.of(), after, BATCH);
      page = store.read(state -> state.search(query));
      if (!page.isEmpty()) {
        List<StoredResource> batch = page;
        store.write(tx -> read(tx, batch));
        last = Optional.of(page.get(page.size() - 1).key().id());
      }
    } while (page.size() == BATCH);
  }

  /** Holds the patients, so that no newer version is overtaken by what an older one said. */
  private static boolean read(Writing tx, List<StoredResource> batch) {
    TreeSet<String> held = new TreeSet<>();
    TreeSet<ResourceKey> keys = new TreeSet<>();
    for (StoredResource resource : batch) {
      keys.add(resource.key());
      held.add(resource.patientId().isEmpty() ? resource.key().reference() : resource.patientId());
    }
    tx.lockPatients(held);
    tx.resources(keys)
        .values()
        .forEach(one -> tx.findBy(one, SearchValues.of(FhirJson.parse(one.json()))));
    return true;
  }
}
