package indwell.contract;

import static indwell.contract.Samples.NOON;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.withdrawn;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore;
import indwell.port.StoredEvent;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** When what was said of a patient was last replaced or taken back. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CorrectionsTest {
  @TempDir Path folder;

  private static Map<String, Instant> corrections(ClinicalStore store) {
    return store.read(state -> state.lastCorrections(List.of("pat-71", "pat-72", "pat-79")));
  }

  private static List<EventKey> corrected(ClinicalStore store, String patientId) {
    return store.read(state -> List.copyOf(state.correctedEvents(patientId)));
  }

  private static void append(ClinicalStore store, StoredEvent event) {
    store.write(
        tx -> {
          tx.append(event);
          return true;
        });
  }

  @ParameterizedTest
  @EnumSource
  void a_patient_remembers_corrections_alone(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      append(store, event("a", 1, "pat-71"));
      append(store, event("b", 1, "pat-72"));
      assertThat(corrections(store)).isEmpty();

      append(store, event("a", 3, "pat-71"));
      assertThat(corrections(store)).isEqualTo(Map.of("pat-71", NOON.plusMillis(3)));
    }
  }

  @ParameterizedTest
  @EnumSource
  void an_event_that_moves_to_another_patient_is_a_correction_of_the_first(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      append(store, event("a", 1, "pat-71"));
      append(store, event("a", 2, "pat-72"));
      assertThat(corrections(store)).isEqualTo(Map.of("pat-71", NOON.plusMillis(2)));
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_withdrawal_is_a_correction_also_when_it_comes_first(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      append(store, withdrawn("a", 5, "pat-71"));
      assertThat(corrections(store)).isEqualTo(Map.of("pat-71", NOON.plusMillis(5)));

      append(store, event("a", 2, "pat-72"));
      assertThat(corrections(store))
          .isEqualTo(Map.of("pat-71", NOON.plusMillis(5), "pat-72", NOON.plusMillis(5)));
    }
  }

  @ParameterizedTest
  @EnumSource
  void the_events_behind_it_are_found_from_every_patient_that_they_named(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      append(store, event("plain", 1, "pat-71"));
      append(store, event("moved", 1, "pat-71"));
      append(store, event("moved", 2, "pat-72"));
      append(store, event("back", 1, "pat-71"));
      append(store, withdrawn("back", 2, "pat-71"));

      assertThat(corrected(store, "pat-71"))
          .containsExactly(event("back", 1, "x").key(), event("moved", 1, "x").key());
      assertThat(corrected(store, "pat-72")).containsExactly(event("moved", 1, "x").key());
      assertThat(corrected(store, "pat-79")).isEmpty();
    }
  }
}
