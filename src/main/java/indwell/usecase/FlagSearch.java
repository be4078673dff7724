package indwell.usecase;

import indwell.fhir.map.FlagMapper;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore.Reading;
import indwell.port.Ordered;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.HasCode;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources.Found;
import indwell.usecase.SearchResources.Total;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Searches flags, which no table holds. Where the query says which patients can have them, theirs
 * are worked out; else a page walks over the Devices, whose ids flag ids begin with.
 */
final class FlagSearch {
  private static final String DEVICE = "Device/";

  private final PatientFlags flags;

  FlagSearch(PatientFlags flags) {
    this.flags = flags;
  }

  Found find(Reading state, ResourceQuery query, Total total, Instant now) {
    Optional<Set<String>> patients = patients(state, query, now);
    boolean ascending = query.order().isById() && !query.order().descending();
    if (patients.isEmpty() && ascending && total != Total.ACCURATE && query.limit() > 0) {
      return walk(state, query, total, now);
    }
    List<Ordered<FlagResource>> all = new ArrayList<>();
    flags.forEach(
        state,
        patients.orElseGet(() -> EveryPatient.ids(state)),
        now,
        flag -> {
          List<SearchValue> values = SearchValues.of(flag.flag());
          if (isMet(query, flag, values)) {
            all.add(placed(query, flag, values));
          }
        });
    List<Ordered<FlagResource>> page =
        Ordered.page(all.stream(), query.page(query.afterId(), query.limit() + 1));
    return found(page, query.limit(), counted(total, all.size()));
  }

  private Found walk(Reading state, ResourceQuery query, Total total, Instant now) {
    List<FlagResource> found =
        new FlagWalk(flags, state, now)
            .from(
                query.afterId(),
                query.limit() + 1,
                flag -> isMet(query, flag, SearchValues.of(flag.flag())));
    boolean all = query.afterId().isEmpty() && found.size() <= query.limit();
    return found(
        found.stream().map(flag -> new Ordered<>(0, flag.id(), flag)).toList(),
        query.limit(),
        all ? counted(total, found.size()) : OptionalLong.empty());
  }

  private static Found found(List<Ordered<FlagResource>> page, int limit, OptionalLong total) {
    List<Ordered<FlagResource>> shown = page.subList(0, Math.min(limit, page.size()));
    List<StoredResource> resources = shown.stream().map(one -> one.found().asStored()).toList();
    return new Found(
        resources,
        limit > 0 && page.size() > limit,
        total,
        shown.isEmpty()
            ? OptionalLong.empty()
            : OptionalLong.of(shown.get(shown.size() - 1).key()));
  }

  private static OptionalLong counted(Total total, int size) {
    return total == Total.NONE ? OptionalLong.empty() : OptionalLong.of(size);
  }

  private static Ordered<FlagResource> placed(
      ResourceQuery query, FlagResource flag, Collection<SearchValue> values) {
    long key = Ordered.key(query.order(), flag.lastUpdated().toEpochMilli(), values);
    return new Ordered<>(key, flag.id(), flag);
  }

  private static boolean isMet(
      ResourceQuery query, FlagResource flag, Collection<SearchValue> values) {
    return query.isMetBy(
        new ResourceKey("Flag", flag.id()),
        flag.patientId(),
        List.of(),
        flag.lastUpdated().toEpochMilli(),
        values);
  }

  /** The patients who can have flags that meet the query; empty when that can be anyone. */
  private static Optional<Set<String>> patients(Reading state, ResourceQuery query, Instant now) {
    if (!query.patientIds().isEmpty()) {
      return Optional.of(query.patientIds());
    }
    if (!query.ids().isEmpty()) {
      return Optional.of(
          patientsOf(
              state, query.ids().stream().flatMap(id -> FlagMapper.deviceIdOf(id).stream())));
    }
    for (SearchCondition condition : query.conditions()) {
      if (condition instanceof HasCode asked && !asked.not()) {
        Optional<Set<String>> patients = patients(state, asked, now);
        if (patients.isPresent()) {
          return patients;
        }
      }
    }
    return Optional.empty();
  }

  private static Optional<Set<String>> patients(Reading state, HasCode asked, Instant now) {
    List<String> values =
        asked.anyOf().stream().flatMap(code -> code.value().stream()).distinct().toList();
    if (values.size() < asked.anyOf().size()) {
      return Optional.empty();
    }
    return switch (asked.parameter()) {
      case "status" ->
          values.equals(List.of("active"))
              ? Optional.of(state.patientsWithCatheter(now))
              : Optional.empty();
      case "focus-device" ->
          Optional.of(
              patientsOf(
                  state,
                  values.stream()
                      .filter(value -> value.startsWith(DEVICE))
                      .map(value -> value.substring(DEVICE.length()))));
      default -> Optional.empty();
    };
  }

  private static Set<String> patientsOf(Reading state, Stream<String> deviceIds) {
    return state
        .resources(deviceIds.map(id -> new ResourceKey("Device", id)).distinct().toList())
        .values()
        .stream()
        .map(StoredResource::patientId)
        .collect(Collectors.toSet());
  }
}
