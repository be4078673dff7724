package indwell.boot.cli;

import indwell.boot.Validators;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import picocli.CommandLine.Command;

/** Prints the resources that a set of events makes. */
@Command(
    name = "map",
    description =
        "Maps events to FHIR R4 resources, each validated against its profile, and prints the"
            + " current ones as NDJSON, by type and id.",
    mixinStandardHelpOptions = true)
final class MapCommand extends EventsCommand {
  private static final int PAGE = 1000;

  @Override
  ProfileValidator validator() {
    return Validators.warm();
  }

  @Override
  void answer(ClinicalStore store, Instant now) {
    store.read(
        state -> {
          for (String type : ReadResources.TYPES) {
            print(state, type);
          }
          return null;
        });
  }

  private void print(ClinicalStore.Reading state, String type) {
    Optional<String> after = Optional.empty();
    List<StoredResource> page;
    do {
      page = state.search(new ResourceQuery(type, Set.of(), Set.of(), Set.of(), after, PAGE));
      for (StoredResource resource : page) {
        out().println(resource.json());
        after = Optional.of(resource.key().id());
      }
    } while (page.size() == PAGE);
  }
}
