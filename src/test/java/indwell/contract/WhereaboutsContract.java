package indwell.contract;

import static indwell.contract.Samples.catheter;
import static indwell.contract.Samples.catheters;
import static indwell.contract.Samples.inpatient;
import static indwell.contract.Samples.instant;
import static indwell.contract.Samples.outpatient;
import static indwell.contract.Samples.wards;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.port.PatientIndex;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** What it knows of where patients and catheters are. */
abstract class WhereaboutsContract extends StoreChecks {
  private Set<String> inWards(Set<String> wards, String start, String endExclusive) {
    Set<Ward> asked = wards.stream().map(Ward::new).collect(Collectors.toSet());
    return now().patientsInWards(asked, instant(start), instant(endExclusive));
  }

  @Test
  void a_ward_span_is_met_from_its_start_to_its_end() {
    index("pat-71", wards(inpatient("W-1", "08:00", "10:00")));
    assertThat(inWards(Set.of("W-1"), "07:00", "08:00")).isEmpty();
    assertThat(inWards(Set.of("W-1"), "07:00", "08:01")).containsExactly("pat-71");
    assertThat(inWards(Set.of("W-1"), "10:00", "11:00")).containsExactly("pat-71");
    assertThat(inWards(Set.of("W-1"), "10:01", "11:00")).isEmpty();
    assertThat(inWards(Set.of("W-2"), "08:00", "10:00")).isEmpty();
    assertThat(inWards(Set.of("W-2", "W-1"), "08:00", "10:00")).containsExactly("pat-71");
    assertThat(inWards(Set.of(), "09:00", "09:01")).containsExactly("pat-71");
    assertThat(inWards(Set.of(), "10:01", "11:00")).isEmpty();
  }

  @Test
  void a_span_without_an_end_is_met_by_every_later_time() {
    index("pat-71", wards(inpatient("W-1", "08:00", "09:00"), inpatient("W-2", "09:00", "open")));
    assertThat(inWards(Set.of("W-2"), "23:00", "open")).containsExactly("pat-71");
    assertThat(inWards(Set.of("W-1"), "23:00", "open")).isEmpty();
  }

  @Test
  void an_empty_span_meets_its_own_instant() {
    index("pat-71", wards(inpatient("W-1", "08:00", "08:00")));
    assertThat(inWards(Set.of("W-1"), "08:00", "08:01")).containsExactly("pat-71");
    assertThat(inWards(Set.of("W-1"), "07:59", "08:00")).isEmpty();
    assertThat(inWards(Set.of("W-1"), "08:01", "08:02")).isEmpty();
  }

  @Test
  void a_catheter_span_holds_its_start_and_not_its_end() {
    index("pat-71", catheters(catheter("08:00", "10:00"), catheter("12:00", "open")));
    index("pat-72", catheters(catheter("09:00", "09:00")));
    assertThat(now().patientsWithCatheter(instant("07:59"))).isEmpty();
    assertThat(now().patientsWithCatheter(instant("08:00"))).containsExactly("pat-71");
    assertThat(now().patientsWithCatheter(instant("09:00"))).containsExactly("pat-71");
    assertThat(now().patientsWithCatheter(instant("10:00"))).isEmpty();
    assertThat(now().patientsWithCatheter(instant("23:59"))).containsExactly("pat-71");
  }

  @Test
  void wards_are_known_by_any_span_and_counted_by_inpatient_ones() {
    index("pat-71", wards(outpatient("ED", "06:00", "08:00"), inpatient("W-2", "08:00", "open")));
    index("pat-72", wards(inpatient("W-2", "08:00", "open"), inpatient("W-1", "07:00", "07:00")));
    assertThat(now().inpatientWards()).containsExactly(new Ward("W-1"), new Ward("W-2"));
    assertThat(now().knowsWard(new Ward("ED"))).isTrue();
    assertThat(now().knowsWard(new Ward("W-3"))).isFalse();
  }

  @Test
  void patients_with_a_catheter_are_found_by_a_ward_that_they_ever_were_in() {
    index(
        "pat-71",
        new PatientIndex(
            List.of(inpatient("W-1", "07:00", "08:00"), inpatient("W-2", "08:00", "open")),
            List.of(catheter("08:00", "open")),
            List.of()));
    index("pat-72", wards(inpatient("W-1", "07:00", "open")));
    assertThat(now().patientsWithCatheter(instant("09:00"), new Ward("W-1")))
        .containsExactly("pat-71");
    assertThat(now().patientsWithCatheter(instant("09:00"), new Ward("W-2")))
        .containsExactly("pat-71");
    assertThat(now().patientsWithCatheter(instant("09:00"), new Ward("W-3"))).isEmpty();
    assertThat(now().patientsWithCatheter(instant("07:30"), new Ward("W-1"))).isEmpty();
  }

  @Test
  void a_new_index_replaces_the_old_one() {
    index(
        "pat-71",
        new PatientIndex(
            List.of(inpatient("W-1", "08:00", "open")),
            List.of(catheter("08:00", "open")),
            List.of()));
    index("pat-71", wards(inpatient("W-2", "08:00", "open")));
    assertThat(now().inpatientWards()).containsExactly(new Ward("W-2"));
    assertThat(now().patientsWithCatheter(instant("09:00"))).isEmpty();
    index("pat-71", wards());
    assertThat(now().inpatientWards()).isEmpty();
    assertThat(now().knowsWard(new Ward("W-2"))).isFalse();
  }

  /** Who knows what was there need not have it looked up, and leaves nothing of it. */
  @Test
  void an_index_that_is_known_is_replaced_as_well() {
    PatientIndex first = wards(inpatient("W-1", "08:00", "open"));
    PatientIndex second = wards(inpatient("W-2", "08:00", "open"));
    PatientIndex third = wards(inpatient("W-3", "08:00", "open"));
    store()
        .write(
            tx -> {
              tx.index("pat-71", Optional.of(PatientIndex.NOWHERE), first);
              return true;
            });
    assertThat(now().inpatientWards()).containsExactly(new Ward("W-1"));
    store()
        .write(
            tx -> {
              tx.index("pat-71", Optional.of(first), first);
              tx.index("pat-71", Optional.of(first), second);
              tx.index("pat-71", Optional.of(second), third);
              return true;
            });
    assertThat(now().inpatientWards()).containsExactly(new Ward("W-3"));
    store()
        .write(
            tx -> {
              tx.index("pat-71", Optional.of(third), PatientIndex.NOWHERE);
              return true;
            });
    assertThat(now().inpatientWards()).isEmpty();
  }
}
