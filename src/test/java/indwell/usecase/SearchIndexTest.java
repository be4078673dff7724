package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.AnyStore;
import indwell.contract.Satisfied;
import indwell.fhir.map.MappingContext;
import indwell.fhir.search.SearchValues;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import indwell.port.TimeTest;
import indwell.port.TimeTest.Prefix;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A store that an older release wrote becomes searchable when this one starts. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SearchIndexTest {
  private static final Instant NOW = Instant.parse("2026-04-20T12:00:00Z");
  @TempDir Path folder;

  private static void record(ClinicalStore store) {
    RecordEvents recordEvents =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneId.of("Europe/Berlin")));
    for (String body : new RandomBodies(47).bodies()) {
      recordEvents.record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
    }
  }

  private static List<String> found(ClinicalStore store, String type, SearchCondition asked) {
    ResourceQuery query =
        new ResourceQuery(
            type,
            Set.of(),
            Set.of(),
            Set.of(),
            List.of(asked),
            SearchOrder.BY_ID,
            Optional.empty(),
            1_000);
    return store.read(state -> state.search(query)).stream().map(one -> one.key().id()).toList();
  }

  /** Leaves the store as a release that knew of no search values would have left it. */
  private static void forget(ClinicalStore store) {
    for (String type : ReadResources.TYPES) {
      ResourceQuery all =
          new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 10_000);
      List<StoredResource> resources = store.read(state -> state.search(all));
      store.write(
          tx -> {
            resources.forEach(one -> tx.findBy(one, List.of()));
            tx.searchVersion(0);
            return true;
          });
    }
  }

  @ParameterizedTest
  @EnumSource
  void an_older_store_is_read_anew_once(AnyStore kind) {
    SearchCondition completed =
        new HasCode("status", List.of(new Code(Optional.empty(), Optional.of("completed"))), false);
    SearchCondition late = new HasTime("date", List.of(new TimeTest(Prefix.GT, 0, 1)));
    try (ClinicalStore store = kind.open(folder)) {
      record(store);
      List<String> procedures = found(store, "Procedure", completed);
      List<String> observations = found(store, "Observation", late);
      assertThat(procedures).isNotEmpty();
      assertThat(observations).isNotEmpty();

      forget(store);
      assertThat(found(store, "Procedure", completed)).isEmpty();
      new SearchIndex(store).bringUpToDate();

      assertThat(found(store, "Procedure", completed)).isEqualTo(procedures);
      assertThat(found(store, "Observation", late)).isEqualTo(observations);
      assertThat(store.<Integer>read(state -> state.searchVersion()))
          .isEqualTo(SearchValues.VERSION);

      // What is forgotten now stays so: the second start reads nothing.
      ResourceKey first = new ResourceKey("Procedure", procedures.get(0));
      store.write(
          tx -> {
            tx.findBy(tx.resource(first).orElseThrow(), List.of());
            return true;
          });
      new SearchIndex(store).bringUpToDate();
      assertThat(found(store, "Procedure", completed)).hasSize(procedures.size() - 1);
    }
  }
}
