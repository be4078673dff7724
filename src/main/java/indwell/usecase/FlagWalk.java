package indwell.usecase;

import indwell.fhir.map.FlagMapper;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/** Walks over flags in the order of their ids, which is that of the ids of their Devices. */
record FlagWalk(PatientFlags flags, Reading state, Instant now) {
  private static final int DEVICES = 200;

  /**
   * The next flags.
   *
   * @param afterId id of a flag; those after it
   * @param most at most so many
   */
  List<FlagResource> from(Optional<String> afterId, int most, Predicate<FlagResource> wanted) {
    List<FlagResource> found = new ArrayList<>();
    Optional<String> device = afterId.flatMap(FlagMapper::deviceIdOf);
    List<StoredResource> devices =
        device.flatMap(id -> state.resource(new ResourceKey("Device", id))).stream().toList();
    boolean last = false;
    while (found.size() < most && !last) {
      flagsOf(devices).stream()
          .filter(flag -> afterId.isEmpty() || flag.id().compareTo(afterId.get()) > 0)
          .filter(wanted)
          .limit(most - found.size())
          .forEach(found::add);
      List<StoredResource> next =
          state.search(new ResourceQuery("Device", Set.of(), Set.of(), Set.of(), device, DEVICES));
      last = next.isEmpty();
      device = last ? device : Optional.of(next.get(next.size() - 1).key().id());
      devices = next;
    }
    return found;
  }

  /** The flags about these Devices, ascending by id. */
  private List<FlagResource> flagsOf(List<StoredResource> devices) {
    Map<String, String> patients =
        devices.stream()
            .collect(Collectors.toMap(one -> one.key().id(), StoredResource::patientId));
    return flags.of(state, Set.copyOf(patients.values()), now).stream()
        .filter(flag -> FlagMapper.deviceIdOf(flag.id()).filter(patients::containsKey).isPresent())
        .sorted(Comparator.comparing(FlagResource::id))
        .toList();
  }
}
