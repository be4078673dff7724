package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * The counts worked out anew from the FHIR resources are those of the incremental state after every
 * single arrival: corrections, withdrawals, late and doubled events, moves to another patient. At
 * the end both are those of the SQL.
 */
class RecomputedCountsTest {

  @Provide
  Arbitrary<History> histories() {
    return RandomHistories.histories();
  }

  @Property(tries = 40, seed = "20261125", edgeCases = EdgeCasesMode.NONE)
  void the_resources_tell_the_counts_of_the_incremental_state_after_every_arrival(
      @ForAll("histories") History history) {
    try (ClinicalStore store = new MemoryStore();
        SqlCounters sql = new SqlCounters()) {
      RecordEvents recordEvents =
          new RecordEvents(store, new Unvalidated(), new MappingContext(history.zone()));
      for (Fact fact : history.arrivals()) {
        record(recordEvents, fact);
        assertThat(ResourceCounters.count(store, history))
            .as("after %s %s v%d", fact.source(), fact.eventId(), fact.version())
            .isEqualTo(incremental(store, history));
      }
      Answers counted = sql.count(List.of(history)).get(0);
      counted.withoutLongestStanding();
      assertThat(ResourceCounters.count(store, history)).isEqualTo(counted);
    }
  }

  private static void record(RecordEvents recordEvents, Fact fact) {
    byte[] body = FactBody.of(fact).getBytes(StandardCharsets.UTF_8);
    EventResult result =
        recordEvents.record(EventBodies.line(body, ServiceCounters.NOW), ServiceCounters.NOW);
    assertThat(result.outcome()).isIn(Outcome.RECORDED, Outcome.SUPERSEDED, Outcome.DUPLICATE);
  }

  /** What the use cases answer; a patient of whom no resource is there yet is not asked about. */
  private static Answers incremental(ClinicalStore store, History history) {
    Answers answers = new Answers();
    ServiceCounters.ask(store, history.askedOf(patient -> isKnown(store, patient)), answers);
    answers.withoutLongestStanding();
    return answers;
  }

  private static boolean isKnown(ClinicalStore store, String patient) {
    ResourceKey key = new ResourceKey("Patient", ServiceCounters.idOf(patient));
    return store.read(state -> state.resource(key)).isPresent();
  }

  /** Profiles are another test's concern ({@code AnyOrderOfArrivalTest}), and slow. */
  private static final class Unvalidated implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
