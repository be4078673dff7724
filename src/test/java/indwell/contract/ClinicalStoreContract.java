package indwell.contract;

import static indwell.contract.Samples.NOON;
import static indwell.contract.Samples.all;
import static indwell.contract.Samples.catheter;
import static indwell.contract.Samples.catheters;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.identified;
import static indwell.contract.Samples.inpatient;
import static indwell.contract.Samples.instant;
import static indwell.contract.Samples.key;
import static indwell.contract.Samples.outpatient;
import static indwell.contract.Samples.resource;
import static indwell.contract.Samples.wards;
import static indwell.contract.Samples.withdrawn;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** What every {@link ClinicalStore} does. A subclass says only how an empty one is opened. */
@DisplayNameGeneration(ReplaceUnderscores.class)
abstract class ClinicalStoreContract {
  private static final ResourceKey DEVICE = new ResourceKey("Device", "d23");

  protected ClinicalStore store;

  /** Opens an empty store. */
  abstract ClinicalStore openEmpty() throws Exception;

  @BeforeEach
  void open() throws Exception {
    store = openEmpty();
  }

  @AfterEach
  void close() {
    store.close();
  }

  /** Every question is asked in a transaction of its own. */
  final Reading now() {
    return Now.of(store);
  }

  final void append(StoredEvent... events) {
    store.write(
        writing -> {
          List.of(events).forEach(writing::append);
          return true;
        });
  }

  final void put(StoredResource... resources) {
    store.write(
        writing -> {
          List.of(resources).forEach(writing::put);
          return true;
        });
  }

  final void index(String patientId, PatientIndex index) {
    store.write(
        writing -> {
          writing.index(patientId, index);
          return true;
        });
  }

  @Nested
  class Events {
    @Test
    void an_unknown_event_has_no_versions() {
      assertThat(now().versionsOf(key("E-404"))).isEmpty();
      assertThat(now().currentEvents("pat-404")).isEmpty();
    }

    @Test
    void a_version_comes_back_as_it_was_kept() {
      StoredEvent kept =
          new StoredEvent(
              key("E-11:a/b"),
              7,
              false,
              "pat-71",
              "{\"t\":\"Fr\u00fchdienst \ud83c\udfe5 'x'; -- \\\\ \\n \\u0000 \u2028 \t\"}",
              NOON,
              List.of("Procedure/p13", "Observation/o17"));
      append(kept, withdrawn("E-12", 1, "pat-71"));
      assertThat(now().versionsOf(key("E-11:a/b"))).containsExactly(kept);
      assertThat(now().versionsOf(key("E-12"))).containsExactly(withdrawn("E-12", 1, "pat-71"));
    }

    @Test
    void versions_ascend_whatever_order_they_arrive_in() {
      append(event("E-13", 3, "pat-71"));
      append(event("E-13", 1, "pat-71"));
      append(event("E-13", 2, "pat-71"));
      assertThat(now().versionsOf(key("E-13")))
          .containsExactly(
              event("E-13", 1, "pat-71"), event("E-13", 2, "pat-71"), event("E-13", 3, "pat-71"));
    }

    @Test
    void the_highest_version_is_current_whatever_order_they_arrive_in() {
      append(event("E-14", 3, "pat-71"));
      append(event("E-14", 1, "pat-71"));
      append(event("E-15", 1, "pat-71"), event("E-15", 2, "pat-71"));
      assertThat(now().currentEvents("pat-71"))
          .containsExactlyInAnyOrder(event("E-14", 3, "pat-71"), event("E-15", 2, "pat-71"));
    }

    @Test
    void the_same_event_id_of_another_source_is_another_event() {
      StoredEvent other =
          new StoredEvent(
              new EventKey("monitor", "E-16"), 1, false, "pat-71", "{}", NOON, List.of());
      append(event("E-16", 5, "pat-71"), other);
      assertThat(now().currentEvents("pat-71")).hasSize(2).contains(other);
    }

    @Test
    void a_withdrawn_event_is_not_current_until_a_higher_version_revives_it() {
      append(event("E-17", 1, "pat-71"), withdrawn("E-17", 2, "pat-71"));
      assertThat(now().currentEvents("pat-71")).isEmpty();
      append(event("E-17", 3, "pat-71"));
      assertThat(now().currentEvents("pat-71")).containsExactly(event("E-17", 3, "pat-71"));
    }

    @Test
    void a_withdrawal_that_arrives_first_keeps_the_lower_version_out() {
      append(withdrawn("E-18", 2, "pat-71"));
      append(event("E-18", 1, "pat-71"));
      assertThat(now().currentEvents("pat-71")).isEmpty();
    }

    @Test
    void an_event_whose_highest_version_names_another_patient_leaves_the_old_one() {
      append(event("E-19", 1, "pat-71"));
      append(event("E-19", 2, "pat-72"));
      append(event("E-20", 2, "pat-72"));
      append(event("E-20", 1, "pat-71"));
      assertThat(now().currentEvents("pat-71")).isEmpty();
      assertThat(now().currentEvents("pat-72"))
          .containsExactlyInAnyOrder(event("E-19", 2, "pat-72"), event("E-20", 2, "pat-72"));
    }

    @Test
    void many_patients_are_read_at_once_and_those_without_events_are_left_out() {
      append(event("E-21", 1, "pat-71"), event("E-22", 1, "pat-72"));
      assertThat(now().currentEvents(List.of("pat-71", "pat-72", "pat-73")))
          .isEqualTo(
              Map.of(
                  "pat-71", List.of(event("E-21", 1, "pat-71")),
                  "pat-72", List.of(event("E-22", 1, "pat-72"))));
      assertThat(now().currentEvents(List.<String>of())).isEmpty();
    }

    @Test
    void a_version_that_is_there_already_is_refused_and_stays() {
      append(event("E-23", 1, "pat-71"));
      assertThatThrownBy(() -> append(event("E-23", 1, "pat-72")))
          .isInstanceOf(IllegalStateException.class)
          .hasMessageEndingWith("is there already.");
      assertThat(now().versionsOf(key("E-23"))).containsExactly(event("E-23", 1, "pat-71"));
    }
  }

  @Nested
  class Resources {
    @Test
    void an_unknown_resource_has_nothing() {
      assertThat(now().resource(DEVICE)).isEmpty();
      assertThat(now().version(DEVICE, 1)).isEmpty();
      assertThat(now().history(DEVICE)).isEmpty();
      assertThat(now().resources(List.of())).isEmpty();
    }

    @Test
    void a_resource_comes_back_as_it_was_kept() {
      StoredResource kept =
          new StoredResource(
              DEVICE,
              1,
              NOON,
              "",
              List.of("https://indwell.example/fhir/catheter|K-\u00dc \"1\" \\ \ud83d\ude80", "|"),
              "{\"d\":\"line\\nfeed \u00a0 \ud83e\ude7a\"}");
      put(kept);
      assertThat(now().resource(DEVICE)).contains(kept);
      assertThat(now().version(DEVICE, 1)).contains(kept);
    }

    @Test
    void texts_with_any_characters_but_NUL_come_back() {
      String odd = "a\nb\\n\\\\c\r\t\u0001\u007f'\"%_;{}\u00e9\u20ac\uffff\ud83d\udc69\u200d\u2695";
      StoredResource kept =
          new StoredResource(DEVICE, 1, NOON, odd, List.of("s|" + odd, "", "x|\n"), odd);
      put(kept);
      assertThat(now().resource(DEVICE)).contains(kept);
      assertThat(now().search(identified("Device", "s|" + odd))).containsExactly(kept);
    }

    @Test
    void the_newest_of_many_are_read_at_once() {
      put(resource("Device", "d23", 1), resource("Device", "d24", 1));
      put(resource("Device", "d23", 2));
      assertThat(
              now()
                  .resources(
                      List.of(
                          DEVICE,
                          DEVICE,
                          new ResourceKey("Procedure", "d24"),
                          new ResourceKey("Device", "d24"))))
          .isEqualTo(
              Map.of(
                  DEVICE,
                  resource("Device", "d23", 2),
                  new ResourceKey("Device", "d24"),
                  resource("Device", "d24", 1)));
    }

    @Test
    void history_is_newest_first_and_every_version_can_be_read() {
      put(resource("Device", "d23", 1));
      put(resource("Device", "d23", 2), resource("Device", "d23", 3));
      assertThat(now().history(DEVICE))
          .containsExactly(
              resource("Device", "d23", 3),
              resource("Device", "d23", 2),
              resource("Device", "d23", 1));
      assertThat(now().version(DEVICE, 2)).contains(resource("Device", "d23", 2));
      assertThat(now().version(DEVICE, 4)).isEmpty();
    }

    @Test
    void a_version_must_follow_the_newest_one() {
      assertThatThrownBy(() -> put(resource("Device", "d23", 2)))
          .isInstanceOf(IllegalStateException.class)
          .hasMessage("Version 2 of a Device does not follow its newest version.");
      put(resource("Device", "d23", 1));
      for (int wrong : new int[] {1, 3}) {
        assertThatThrownBy(() -> put(resource("Device", "d23", wrong)))
            .isInstanceOf(IllegalStateException.class);
      }
      assertThat(now().history(DEVICE)).containsExactly(resource("Device", "d23", 1));
    }
  }

  @Nested
  class Searches {
    @BeforeEach
    void some() {
      put(
          resource("Device", "b", 1, "pat-71", "s1|K-1", "s2|K-2"),
          resource("Device", "a", 1, "pat-72", "s1|K-2"),
          resource("Device", "Z", 1, "pat-71", "s1|K|3"),
          resource("Device", "c", 1, "pat-73"),
          resource("DeviceUseStatement", "a", 1, "pat-71", "s1|K-1"),
          resource("Devicf", "a", 1, "pat-71", "s1|K-1"));
    }

    private List<String> ids(ResourceQuery query) {
      List<String> ids = now().search(query).stream().map(s -> s.key().id()).toList();
      assertThat(now().count(query)).isEqualTo(ids.size());
      return ids;
    }

    @Test
    void ascend_by_id_in_code_point_order_within_the_type() {
      assertThat(ids(all("Device"))).containsExactly("Z", "a", "b", "c");
      assertThat(ids(all("Devic"))).isEmpty();
    }

    @Test
    void find_tokens_in_every_form() {
      assertThat(ids(identified("Device", "s1|K-1"))).containsExactly("b");
      assertThat(ids(identified("Device", "s1|K-2"))).containsExactly("a");
      assertThat(ids(identified("Device", "K-2"))).containsExactly("a", "b");
      assertThat(ids(identified("Device", "s1|"))).containsExactly("Z", "a", "b");
      assertThat(ids(identified("Device", "s1|K|3"))).containsExactly("Z");
      assertThat(ids(identified("Device", "|K-1"))).isEmpty();
      assertThat(ids(identified("Device", "s2|K-1"))).isEmpty();
      assertThat(ids(identified("Device", "|"))).isEmpty();
      assertThat(ids(identified("Device", "s1|K|3", "K-1", "s2|"))).containsExactly("Z", "b");
    }

    @Test
    void take_any_number_of_tokens() {
      String[] many =
          IntStream.rangeClosed(1, 3000).mapToObj(n -> "s1|K-" + n).toArray(String[]::new);
      assertThat(ids(identified("Device", many))).containsExactly("a", "b");
    }

    @Test
    void hold_all_conditions_together() {
      ResourceQuery query =
          new ResourceQuery(
              "Device",
              Set.of("a", "b", "Z"),
              Set.of("K-1", "s1|K|3", "s1|K-2"),
              Set.of("pat-71", "pat-74"),
              Optional.empty(),
              50);
      assertThat(ids(query)).containsExactly("Z", "b");
    }

    @Test
    void page_after_an_id_and_count_all_pages() {
      ResourceQuery second =
          new ResourceQuery("Device", Set.of(), Set.of(), Set.of(), Optional.of("a"), 1);
      assertThat(now().search(second))
          .containsExactly(resource("Device", "b", 1, "pat-71", "s1|K-1", "s2|K-2"));
      assertThat(now().count(second)).isEqualTo(4);
    }

    @Test
    void know_the_newest_version_only() {
      put(resource("Device", "b", 2, "pat-79", "s1|K-9"));
      assertThat(ids(identified("Device", "K-1"))).isEmpty();
      assertThat(now().search(identified("Device", "K-9")))
          .containsExactly(resource("Device", "b", 2, "pat-79", "s1|K-9"));
      assertThat(
              ids(
                  new ResourceQuery(
                      "Device", Set.of(), Set.of(), Set.of("pat-71"), Optional.empty(), 9)))
          .containsExactly("Z");
    }
  }

  @Nested
  class Whereabouts {
    private Set<String> inWards(Set<String> wards, String start, String endExclusive) {
      Set<Ward> asked = wards.stream().map(Ward::new).collect(java.util.stream.Collectors.toSet());
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
  }

  @Nested
  class Transactions {
    @Test
    void what_a_failed_one_wrote_is_not_there() {
      put(resource("Device", "d23", 1, "pat-71", "s|old"));
      index("pat-71", wards(inpatient("W-1", "08:00", "open")));
      RuntimeException mine = new RuntimeException("mine");
      assertThatThrownBy(
              () ->
                  store.write(
                      w -> {
                        w.append(event("E-31", 1, "pat-71"));
                        w.put(resource("Device", "d23", 2, "pat-72", "s|new"));
                        w.put(resource("Device", "d24", 1));
                        w.index("pat-71", wards(inpatient("W-2", "08:00", "open")));
                        w.index("pat-72", catheters(catheter("08:00", "open")));
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
                  store.write(
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
          store.write(
              w -> {
                w.lockEvent(key("E-33"));
                w.lockPatients(new java.util.TreeSet<>(Set.of("pat-71", "pat-72")));
                w.append(event("E-33", 1, "pat-71"));
                w.put(resource("Device", "d23", 1, "pat-71", "s|K-7"));
                w.put(resource("Device", "d23", 2, "pat-71", "s|K-8"));
                w.index("pat-71", wards(inpatient("W-1", "08:00", "open")));
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
      assertThat(store.available()).isTrue();
    }
  }

  @Nested
  class Concurrency {
    @Test
    void two_on_one_event_come_one_after_the_other() throws Exception {
      ConcurrencyChecks.twoOnOneEvent(store);
    }

    @Test
    void two_on_one_patient_come_one_after_the_other() throws Exception {
      ConcurrencyChecks.twoOnOnePatient(store);
    }

    @Test
    void no_update_of_eight_threads_is_lost() throws Exception {
      ConcurrencyChecks.noLostUpdate(store);
    }

    @Test
    void a_resource_that_patients_share_is_written_by_all_of_them() throws Exception {
      ConcurrencyChecks.sharedResource(store);
    }

    @Test
    void one_that_fails_takes_nobody_with_it() throws Exception {
      ConcurrencyChecks.failuresStayAlone(store);
    }

    @Test
    void a_reader_sees_one_state_while_others_write() throws Exception {
      ConcurrencyChecks.consistentReader(store);
    }
  }
}
