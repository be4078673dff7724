package indwell.contract;

import static indwell.contract.Samples.counted;
import static indwell.contract.Samples.doubtful;
import static indwell.contract.Samples.inpatient;
import static indwell.contract.Samples.instant;
import static indwell.contract.Samples.wards;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import indwell.domain.timeline.CountedTime;
import indwell.port.ClinicalStore;
import indwell.port.PatientIndex;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Times that count are kept, found and replaced, in every store. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CountedTimesTest {
  private static final Ward W1 = new Ward("W-1");
  private static final Ward W2 = new Ward("W-2");

  @TempDir Path folder;

  private static void index(ClinicalStore store, String patientId, PatientIndex index) {
    store.write(
        tx -> {
          tx.lockPatients(new java.util.TreeSet<>(Set.of(patientId)));
          tx.index(patientId, index);
          return true;
        });
  }

  private static List<CountedTime> found(
      ClinicalStore store, Set<Ward> wards, String start, String end) {
    List<CountedTime> found = new ArrayList<>();
    store.read(
        state -> {
          state.countedTimes(wards, instant(start), instant(end), found::add);
          return true;
        });
    return found;
  }

  @ParameterizedTest
  @EnumSource
  void those_that_share_an_instant_with_the_time_are_found_by_ward(AnyStore kind) {
    CountedTime before = counted("W-1", "08:00", "09:00", false);
    CountedTime with = counted("W-1", "09:00", "12:00", true);
    CountedTime lasting = counted("W-2", "12:00", "open", false);
    CountedTime other = counted("W-1", "10:00", "open", true);
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-71", counted(before, with, lasting));
      index(store, "pat-72", counted(other));

      assertThat(found(store, Set.of(), "07:00", "23:00"))
          .containsExactlyInAnyOrder(before, with, lasting, other);
      assertThat(found(store, Set.of(W1), "07:00", "23:00"))
          .containsExactlyInAnyOrder(before, with, other);
      assertThat(found(store, Set.of(W1, W2), "09:00", "10:00")).containsExactly(with);
      assertThat(found(store, Set.of(W2), "07:00", "12:00")).isEmpty();
      assertThat(found(store, Set.of(W2), "22:00", "23:00")).containsExactly(lasting);
    }
  }

  @ParameterizedTest
  @EnumSource
  void new_ones_replace_those_of_the_patient(AnyStore kind) {
    CountedTime now = counted("W-2", "08:00", "open", true);
    CountedTime others = counted("W-1", "08:00", "open", true);
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-72", counted(others));
      index(
          store,
          "pat-71",
          counted(counted("W-1", "08:00", "09:00", false), counted("W-1", "09:00", "open", true)));
      index(store, "pat-71", counted(now));
      assertThat(found(store, Set.of(), "07:00", "23:00")).containsExactlyInAnyOrder(now, others);
      index(store, "pat-71", counted());
      assertThat(found(store, Set.of(), "07:00", "23:00")).containsExactly(others);
    }
  }

  /** A whole second, as every count time is one, lies in them or not as it did before. */
  @ParameterizedTest
  @EnumSource
  void parts_of_a_millisecond_do_not_move_them_over_a_count_time(AnyStore kind) {
    Duration bit = Duration.ofNanos(1);
    Span span = Span.between(instant("08:00").plus(bit), instant("09:00").plus(bit));
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-71", counted(new CountedTime(W1, span, true)));
      Span kept = found(store, Set.of(W1), "07:00", "23:00").get(0).span();
      assertThat(kept.holds(instant("08:00"))).isEqualTo(span.holds(instant("08:00"))).isFalse();
      assertThat(kept.holds(instant("09:00"))).isEqualTo(span.holds(instant("09:00"))).isTrue();
    }
  }

  @ParameterizedTest
  @EnumSource
  void patients_with_remarks_are_found_alone(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-71", wards(inpatient("W-1", "08:00", "open")));
      index(store, "pat-72", wards(doubtful("W-1", "08:00", "12:00")));
      assertThat(doubtfulIn(store, Set.of(W1), "11:00", "13:00")).containsExactly("pat-72");
      assertThat(doubtfulIn(store, Set.of(), "11:00", "13:00")).containsExactly("pat-72");
      assertThat(doubtfulIn(store, Set.of(W2), "11:00", "13:00")).isEmpty();
      assertThat(doubtfulIn(store, Set.of(W1), "13:00", "14:00")).isEmpty();
      index(store, "pat-72", wards(inpatient("W-1", "08:00", "12:00")));
      assertThat(doubtfulIn(store, Set.of(W1), "11:00", "13:00")).isEmpty();
    }
  }

  private static Set<String> doubtfulIn(
      ClinicalStore store, Set<Ward> wards, String start, String end) {
    return store.read(state -> state.doubtfulPatientsInWards(wards, instant(start), instant(end)));
  }

  @ParameterizedTest
  @EnumSource
  void the_release_that_made_them_is_kept(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      assertThat(store.<Integer>read(state -> state.whereaboutsVersion())).isZero();
      store.write(
          tx -> {
            tx.whereaboutsVersion(7);
            return true;
          });
      assertThat(store.<Integer>read(state -> state.whereaboutsVersion())).isEqualTo(7);
    }
  }
}
