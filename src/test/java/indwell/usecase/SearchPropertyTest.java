package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.AnyStore;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.fhir.search.SearchParameters;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Dated;
import indwell.fhir.search.SearchValues;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Whatever is searched for, a store finds what a look at every single resource finds. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SearchPropertyTest {
  private static final Instant NOW = Instant.parse("2026-04-20T12:00:00.417Z");

  @TempDir Path folder;

  /** Nothing is wrong with anything: what is valid is another test's question. */
  private static final ProfileValidator SATISFIED =
      new ProfileValidator() {
        @Override
        public List<Finding> validate(byte[] json, List<String> profiles) {
          return List.of();
        }

        @Override
        public boolean knows(String profile) {
          return true;
        }
      };

  private record Known(StoredResource resource, List<SearchValue> values) {
    String id() {
      return resource.key().id();
    }
  }

  private ClinicalStore recorded(AnyStore kind) {
    ClinicalStore store = kind.open(folder);
    RecordEvents recordEvents =
        new RecordEvents(store, SATISFIED, new MappingContext(ZoneId.of("Europe/Berlin")));
    Instant received = NOW;
    for (long seed : new long[] {41, 43}) {
      for (String body : new RandomBodies(seed).bodies()) {
        String own = body.replace("\"source\":\"random\"", "\"source\":\"random-" + seed + "\"");
        received = received.plusMillis(1 + seed);
        recordEvents.record(
            EventBodies.line(own.getBytes(StandardCharsets.UTF_8), received), received);
      }
    }
    return store;
  }

  private static Map<String, List<Known>> everything(ClinicalStore store) {
    Map<String, List<Known>> all = new HashMap<>();
    for (String type : ReadResources.TYPES) {
      ResourceQuery query =
          new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 10_000);
      all.put(
          type,
          store.read(state -> state.search(query)).stream()
              .map(one -> new Known(one, values(one)))
              .toList());
    }
    return all;
  }

  private static List<SearchValue> values(StoredResource resource) {
    List<SearchValue> values = new ArrayList<>(SearchValues.of(FhirJson.parse(resource.json())));
    for (String token : resource.identifiers()) {
      int bar = token.indexOf('|');
      values.add(
          new SearchValue.Coded("identifier", token.substring(0, bar), token.substring(bar + 1)));
    }
    long written = resource.lastUpdated().toEpochMilli();
    values.add(new Dated("_lastUpdated", written, written + 1));
    return values;
  }

  private static ResourceQuery query(String type, List<SearchCondition> conditions) {
    return new ResourceQuery(
        type,
        Set.of(),
        Set.of(),
        Set.of(),
        conditions,
        SearchOrder.BY_ID,
        Optional.empty(),
        10_000);
  }

  private static List<String> bruteForce(List<Known> all, List<SearchCondition> conditions) {
    return all.stream()
        .filter(one -> conditions.stream().allMatch(asked -> BruteForce.holds(asked, one.values())))
        .map(Known::id)
        .toList();
  }

  @ParameterizedTest
  @EnumSource
  void a_search_finds_what_a_look_at_every_resource_finds(AnyStore kind) {
    try (ClinicalStore store = recorded(kind)) {
      everything(store)
          .forEach(
              (type, all) -> {
                assertThat(all).as(type).isNotEmpty();
                List<SearchCondition> conditions =
                    RandomConditions.of(type, all.stream().map(Known::values).toList());
                store.read(
                    state -> {
                      conditions.forEach(one -> check(state, type, all, List.of(one)));
                      List<SearchCondition> other = new ArrayList<>(conditions);
                      Collections.shuffle(other, new Random(7));
                      for (int i = 0; i + 1 < other.size(); i += 2) {
                        check(state, type, all, other.subList(i, i + 2));
                      }
                      return true;
                    });
              });
    }
  }

  private static void check(
      ClinicalStore.Reading state, String type, List<Known> all, List<SearchCondition> asked) {
    ResourceQuery query = query(type, asked);
    List<String> expected = bruteForce(all, asked);
    assertThat(state.search(query).stream().map(one -> one.key().id()))
        .as("%s %s", type, asked)
        .isEqualTo(expected);
    assertThat(state.count(query)).as("%s %s", type, asked).isEqualTo(expected.size());
  }

  @ParameterizedTest
  @EnumSource
  void pages_of_every_order_hold_everything_once_and_in_order(AnyStore kind) {
    try (ClinicalStore store = recorded(kind)) {
      everything(store)
          .forEach(
              (type, all) ->
                  SearchParameters.of(type).stream()
                      .map(one -> one.name())
                      .filter(name -> !name.equals("location-period"))
                      .filter(name -> name.equals("_id") || hasTimes(all, name))
                      .forEach(
                          name -> {
                            pages(store, type, all, name, false);
                            pages(store, type, all, name, true);
                          }));
    }
  }

  private static boolean hasTimes(List<Known> all, String name) {
    return all.stream()
        .flatMap(one -> one.values().stream())
        .anyMatch(value -> value instanceof Dated && value.parameter().equals(name));
  }

  private static void pages(
      ClinicalStore store, String type, List<Known> all, String by, boolean descending) {
    List<String> seen = new ArrayList<>();
    SearchResources search = new SearchResources(store, FlagsUnused.of(store));
    OptionalLong key = OptionalLong.empty();
    Optional<String> last = Optional.empty();
    SearchResources.Found page;
    do {
      SearchOrder order =
          new SearchOrder(by, descending, NOW.plusSeconds(3600).toEpochMilli(), key);
      page =
          search.find(
              new ResourceQuery(type, Set.of(), Set.of(), Set.of(), List.of(), order, last, 3),
              SearchResources.Total.NONE,
              NOW);
      page.resources().forEach(one -> seen.add(one.key().id()));
      key = page.lastKey();
      last = Optional.of(seen.get(seen.size() - 1));
    } while (page.more());
    Comparator<Known> order =
        Comparator.<Known>comparingLong(one -> key(one, by)).thenComparing(Known::id);
    assertThat(seen)
        .as("%s by %s", type, by)
        .isEqualTo(
            all.stream().sorted(descending ? order.reversed() : order).map(Known::id).toList());
  }

  private static long key(Known one, String by) {
    return by.equals("_id")
        ? 0
        : one.values().stream()
            .filter(value -> value.parameter().equals(by))
            .mapToLong(value -> ((Dated) value).low())
            .min()
            .orElse(Long.MAX_VALUE);
  }
}
