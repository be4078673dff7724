package indwell.contract;

import static indwell.contract.Samples.all;
import static indwell.contract.Samples.catheter;
import static indwell.contract.Samples.catheters;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.identified;
import static indwell.contract.Samples.inpatient;
import static indwell.contract.Samples.instant;
import static indwell.contract.Samples.key;
import static indwell.contract.Samples.resource;
import static indwell.contract.Samples.wards;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.Ward;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** What a transaction leaves. */
abstract class TransactionsContract extends StoreChecks {
  @Test
  void what_a_failed_one_wrote_is_not_there() {
    put(resource("Device", "d23", 1, "pat-71", "s|old"));
    index("pat-71", wards(inpatient("W-1", "08:00", "open")));
    RuntimeException mine = new RuntimeException("mine");
    assertThatThrownBy(
            () ->
                store()
                    .write(
                        w -> {
                          w.append(event("E-31", 1, "pat-71"));
                          w.put(resource("Device", "d23", 2, "pat-72", "s|new"));
                          w.put(resource("Device", "d24", 1));
                          w.index(
                              "pat-71", Optional.empty(), wards(inpatient("W-2", "08:00", "open")));
                          w.index("pat-72", Optional.empty(), catheters(catheter("08:00", "open")));
                          assertThat(w.currentEvents("pat-71")).hasSize(1);
                          throw mine;
                        }))
        .isSameAs(mine);
    assertThat(now().versionsOf(key("E-31"))).isEmpty();
    assertThat(now().currentEvents("pat-71")).isEmpty();
    assertThat(now().search(all("Device")))
        .containsExactly(resource("Device", "d23", 1, "pat-71", "s|old"));
    assertThat(now().search(identified("Device", "s|old"))).hasSize(1);
    assertThat(now().inpatientWards()).containsExactly(new Ward("W-1"));
    assertThat(now().patientsWithCatheter(instant("09:00"))).isEmpty();
    append(event("E-31", 1, "pat-71"));
    assertThat(now().currentEvents("pat-71")).hasSize(1);
  }

  @Test
  void one_that_breaks_a_rule_at_its_end_leaves_nothing_either() {
    assertThatThrownBy(
            () ->
                store()
                    .write(
                        w -> {
                          w.append(event("E-32", 1, "pat-71"));
                          w.put(resource("Device", "d23", 5));
                          return true;
                        }))
        .isInstanceOf(IllegalStateException.class);
    assertThat(now().versionsOf(key("E-32"))).isEmpty();
  }

  @Test
  void one_sees_its_own_writes() {
    List<Object> seen =
        store()
            .write(
                w -> {
                  w.lockEvents(new TreeSet<>(Set.of(key("E-33"))));
                  w.lockPatients(new TreeSet<>(Set.of("pat-71", "pat-72")));
                  w.append(event("E-33", 1, "pat-71"));
                  w.put(resource("Device", "d23", 1, "pat-71", "s|K-7"));
                  w.put(resource("Device", "d23", 2, "pat-71", "s|K-8"));
                  w.index("pat-71", Optional.empty(), wards(inpatient("W-1", "08:00", "open")));
                  return List.of(
                      w.currentEvents("pat-71"),
                      w.search(identified("Device", "K-8")),
                      w.knowsWard(new Ward("W-1")));
                });
    assertThat(seen)
        .containsExactly(
            List.of(event("E-33", 1, "pat-71")),
            List.of(resource("Device", "d23", 2, "pat-71", "s|K-8")),
            true);
  }

  @Test
  void an_open_store_takes_events() {
    assertThat(store().available()).isTrue();
  }
}
