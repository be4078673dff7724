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
import indwell.domain.timeline.CountedTimes;
import indwell.port.ClinicalStore;
import indwell.port.PatientIndex;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
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
          tx.index(patientId, Optional.empty(), index);
          return true;
        });
  }

  /**
   * Starts and ends by ward and kind, in order, in however many parts they were given; without
   * those that are a start as well as an end, since they count for nothing.
   */
  private static final class Taken implements CountedTimes {
    private final SortedMap<String, List<Long>> millis = new TreeMap<>();

    @Override
    public void take(Ward ward, boolean withCatheter, long[] starts, long[] ends) {
      assertThat(starts).hasSameSizeAs(ends);
      String group = ward.code() + (withCatheter ? " with" : " all");
      Arrays.stream(starts).forEach(start -> add(group + " from", start, group + " to"));
      Arrays.stream(ends).forEach(end -> add(group + " to", end, group + " from"));
    }

    private void add(String name, Long instant, String opposite) {
      List<Long> others = millis.getOrDefault(opposite, new ArrayList<>());
      if (!others.remove(instant)) {
        List<Long> list = millis.computeIfAbsent(name, any -> new ArrayList<>());
        list.add(instant);
        list.sort(Comparator.naturalOrder());
      }
      millis.values().removeIf(List::isEmpty);
    }
  }

  private static SortedMap<String, List<Long>> found(
      ClinicalStore store, Set<Ward> wards, String start, String end) {
    Taken taken = new Taken();
    store.read(
        state -> {
          state.countedTimes(wards, instant(start), instant(end), taken);
          return true;
        });
    return taken.millis;
  }

  private static SortedMap<String, List<Long>> times(CountedTime... times) {
    Taken taken = new Taken();
    Arrays.stream(times).forEach(taken::take);
    return taken.millis;
  }

  @ParameterizedTest
  @EnumSource
  void those_that_share_an_instant_with_the_time_are_found_by_ward(AnyStore kind) {
    CountedTime with = counted("W-1", "08:00", "12:00", "09:00", "11:00");
    CountedTime then = counted("W-1", "12:00", "14:00", "12:00", "13:00");
    CountedTime lasting = counted("W-2", "14:00", "open");
    CountedTime other = counted("W-1", "13:00", "open", "13:30", "open");
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-71", counted(with, then, lasting));
      index(store, "pat-72", counted(other));

      assertThat(found(store, Set.of(W1, W2), "07:00", "23:00"))
          .isEqualTo(times(with, then, lasting, other));
      assertThat(found(store, Set.of(W1), "07:00", "23:00")).isEqualTo(times(with, then, other));
      assertThat(found(store, Set.of(W1, W2), "09:00", "12:00")).isEqualTo(times(with));
      assertThat(found(store, Set.of(W1, W2), "12:00", "13:00")).isEqualTo(times(then));
      assertThat(found(store, Set.of(W2), "07:00", "14:00")).isEmpty();
      assertThat(found(store, Set.of(W2), "22:00", "23:00")).isEqualTo(times(lasting));
      assertThat(found(store, Set.of(), "07:00", "23:00")).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void new_ones_replace_those_of_the_patient(AnyStore kind) {
    CountedTime now = counted("W-2", "08:00", "open", "08:00", "open");
    CountedTime others = counted("W-1", "08:00", "open");
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-72", counted(others));
      index(
          store,
          "pat-71",
          counted(
              counted("W-1", "08:00", "10:00", "08:30", "09:00"),
              counted("W-1", "10:00", "open", "10:00", "open")));
      index(store, "pat-71", counted(now));
      assertThat(found(store, Set.of(W1, W2), "07:00", "23:00")).isEqualTo(times(now, others));
      index(store, "pat-71", counted());
      assertThat(found(store, Set.of(W1, W2), "07:00", "23:00")).isEqualTo(times(others));
    }
  }

  /** A whole second, as every count time is one, lies in them or not as it did before. */
  @ParameterizedTest
  @EnumSource
  void parts_of_a_millisecond_do_not_move_them_over_a_count_time(AnyStore kind) {
    Duration bit = Duration.ofNanos(1);
    Span span = Span.between(instant("08:00").plus(bit), instant("09:00").plus(bit));
    Span none = Span.between(instant("08:30").plus(bit), instant("08:30").plus(bit).plus(bit));
    try (ClinicalStore store = kind.open(folder)) {
      index(store, "pat-71", counted(new CountedTime(W1, span, Optional.of(span))));
      assertThat(found(store, Set.of(W1), "07:00", "23:00"))
          .isEqualTo(
              Map.of(
                  "W-1 all from", List.of(instant("08:00").toEpochMilli() + 1),
                  "W-1 all to", List.of(instant("09:00").toEpochMilli() + 1),
                  "W-1 with from", List.of(instant("08:00").toEpochMilli() + 1),
                  "W-1 with to", List.of(instant("09:00").toEpochMilli() + 1)));

      CountedTime hardly = new CountedTime(W1, span, Optional.of(none));
      index(store, "pat-71", counted(hardly));
      assertThat(found(store, Set.of(W1), "07:00", "23:00"))
          .isEqualTo(times(new CountedTime(W1, span, Optional.empty())));
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
