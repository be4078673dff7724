package indwell.usecase.publish;

import static indwell.usecase.publish.PublishingTest.drained;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.AnyStore;
import indwell.port.LaneHold;
import indwell.usecase.RandomBodies;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What goes wrong between here and the hospital, and what comes of it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PublishingFaultsTest {
  @TempDir Path folder;

  /** The property: whatever happens, and however often it is stopped, all ends equal. */
  @ParameterizedTest
  @CsvSource({"31, OURS", "32, OURS", "33, THEIRS", "34, THEIRS"})
  void whatever_goes_wrong_the_hospital_ends_with_what_the_store_has(
      long seed, Addressing addressing) throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), addressing)) {
      List<String> bodies = new RandomBodies(seed).bodies();
      int half = bodies.size() / 2;
      bench.hospital.script = Fault.passing(seed, 15);
      bench.record(bodies.subList(0, half));
      Publisher first = bench.publisher(seed);
      await().until(() -> bench.hospital.asked.size() > 5);
      bench.record(bodies.subList(half, bodies.size()));
      first.close();
      bench.publisher(seed + 1);
      drained(bench);

      bench.assertEqual();
      bench.assertNeverBackwards();
    }
  }

  /** As a kill would: what was sent is not noted. */
  @Test
  void what_was_sent_and_not_noted_is_sent_again_and_never_backwards() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      List<String> bodies = new RandomBodies(35).bodies();
      bench.record(bodies.subList(0, bodies.size() / 2));
      bench.publisher(1).close();
      Publisher first = bench.publisher(2);
      drained(bench);
      first.close();
      bench.record(bodies.subList(bodies.size() / 2, bodies.size()));
      bench.outbox().again(bench.stored().stream().map(one -> one.key()).toList());
      bench.publisher(3);
      drained(bench);

      bench.assertEqual();
      bench.assertNeverBackwards();
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"SQLITE", "POSTGRES"})
  void a_restart_in_the_middle_loses_nothing(AnyStore kind) throws Exception {
    try (Bench bench = new Bench(kind.open(folder), Addressing.OURS)) {
      bench.record(new RandomBodies(36).bodies());
      AtomicInteger left = new AtomicInteger(9);
      bench.hospital.script =
          request ->
              left.getAndDecrement() > 0
                  ? Optional.empty()
                  : Optional.of(Fault.of(Fault.How.DONE_AND_CLOSED));
      Publisher first = bench.publisher(1);
      await().until(() -> left.get() < 0);
      first.close();
      bench.hospital.script = request -> Optional.empty();
      bench.publisher(2);
      drained(bench);

      bench.assertEqual();
      bench.assertNeverBackwards();
    }
  }

  @Test
  void what_cannot_heal_stands_still_with_what_follows_until_it_is_released() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(37).bodies());
      bench.hospital.script =
          request ->
              request.path().contains("/Device/")
                  ? Optional.of(Fault.outcome(422, "invalid", "Anna Muster has no such device."))
                  : Optional.empty();
      Publishing publishing = publishing(bench);
      publishing.start();
      await()
          .until(
              () ->
                  publishing.status().parked() > 0
                      && bench.outbox().ready(java.time.Instant.now(), 10).isEmpty());

      Publishing.Status status = publishing.status();
      assertThat(status.standing())
          .isNotEmpty()
          .allSatisfy(
              one -> {
                assertThat(one.hold().resource()).startsWith("Device/");
                assertThat(one.hold().reason()).isEqualTo("422 (invalid)");
                assertThat(one.waiting()).isPositive();
              });
      assertThat(bench.hospital.versions().keySet())
          .noneMatch(reference -> reference.matches("(Device|Procedure|DeviceUseStatement)/.*"));

      bench.hospital.script = request -> Optional.empty();
      status
          .standing()
          .forEach(
              one -> assertThat(publishing.release(one.hold().resource(), List.of())).isTrue());
      drained(bench);
      bench.assertEqual();
      assertThat(publishing.release(status.standing().get(0).hold().resource(), List.of()))
          .isFalse();
      publishing.close();
    }
  }

  @Test
  void what_is_skipped_is_left_out_until_it_changes_again() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(38).bodies());
      AtomicInteger refused = new AtomicInteger();
      bench.hospital.script =
          request ->
              request.path().contains("/Provenance/") && refused.compareAndSet(0, 1)
                  ? Optional.of(Fault.outcome(422, "invalid", "No."))
                  : Optional.empty();
      Publishing publishing = publishing(bench);
      publishing.start();
      await().until(() -> publishing.status().parked() == 1);
      String parked = publishing.status().standing().get(0).hold().resource();
      assertThat(publishing.skip(parked, List.of())).isTrue();
      assertThat(publishing.skip(parked, List.of())).isFalse();
      drained(bench);
      assertThat(bench.hospital.versions()).doesNotContainKey(parked);
      assertThat(bench.hospital.versions()).hasSize(bench.stored().size() - 1);
      publishing.close();
    }
  }

  @Test
  void a_redirect_parks_the_connection_and_nobody_goes_there() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS);
        FakeHospital elsewhere = new FakeHospital(false)) {
      bench.record(new RandomBodies(39).bodies());
      bench.hospital.script =
          request -> Optional.of(Fault.status(307, "Location", elsewhere.base() + "/Patient/x"));
      Publishing publishing = publishing(bench);
      publishing.start();
      await().until(() -> publishing.status().state() == Publishing.State.PARKED);
      assertThat(publishing.status().connection())
          .map(LaneHold::reason)
          .contains("redirected: 307");
      assertThat(publishing.status().standing()).isEmpty();
      assertThat(elsewhere.asked).isEmpty();

      bench.hospital.script = request -> Optional.empty();
      assertThat(publishing.releaseConnection(List.of())).isTrue();
      drained(bench);
      bench.assertEqual();
      publishing.close();
    }
  }

  @Test
  void somebody_elses_version_is_put_over_and_counted() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      List<String> bodies = new RandomBodies(40).bodies();
      bench.record(bodies.subList(0, bodies.size() - 5));
      Publisher publisher = bench.publisher(1);
      drained(bench);
      bench.hospital.versions().keySet().stream()
          .filter(reference -> reference.startsWith("Encounter/"))
          .forEach(
              reference -> {
                var foreign = new org.hl7.fhir.r4.model.Encounter();
                foreign.setId(reference.substring(reference.indexOf('/') + 1));
                foreign.setStatus(org.hl7.fhir.r4.model.Encounter.EncounterStatus.CANCELLED);
                bench.hospital.change(reference, Optional.of(foreign));
              });
      touchEncounters(bench);
      drained(bench);
      assertThat(publisher.settled()).isPositive();
      bench.assertEqual();
    }
  }

  /** Has the Encounters sent again, with the versions that the hospital was known to have. */
  private static void touchEncounters(Bench bench) {
    bench.store.write(
        w -> {
          bench.stored().stream()
              .filter(one -> one.key().type().equals("Encounter"))
              .forEach(
                  one ->
                      w.put(
                          new indwell.port.StoredResource(
                              one.key(),
                              one.version() + 1,
                              one.lastUpdated().plusMillis(1),
                              one.patientId(),
                              one.identifiers(),
                              one.json())));
          return true;
        });
  }

  @Test
  void what_was_deleted_there_is_sent_again_when_something_refers_to_it() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      List<String> bodies = new RandomBodies(41).bodies();
      bench.record(bodies.subList(0, bodies.size() - 8));
      bench.publisher(1);
      drained(bench);
      bench.hospital.versions().keySet().stream()
          .filter(reference -> reference.startsWith("Patient/"))
          .forEach(reference -> bench.hospital.change(reference, Optional.empty()));
      bench.record(bodies);
      touchEncounters(bench);
      drained(bench);
      assertThat(bench.hospital.versions().keySet())
          .anyMatch(reference -> reference.startsWith("Patient/"));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {429, 503})
  void a_server_that_asks_to_be_left_alone_is_left_alone(int status) throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(new RandomBodies(42).bodies());
      bench.hospital.script = request -> Optional.of(Fault.status(status, "Retry-After", "3600"));
      Publishing publishing = publishing(bench);
      publishing.start();
      await().until(() -> publishing.status().state() == Publishing.State.WAITING);
      LaneHold hold = publishing.status().connection().orElseThrow();
      assertThat(Duration.between(hold.since(), hold.nextTry()))
          .isGreaterThanOrEqualTo(Duration.ofSeconds(3600));
      int asked = bench.hospital.asked.size();
      assertThat(asked).isBetween(1, 3);
      publishing.close();
      assertThat(bench.hospital.asked).hasSizeLessThanOrEqualTo(3);
    }
  }

  @Test
  void of_two_replicas_one_sends_and_the_other_takes_over() throws Exception {
    try (Bench bench = new Bench(AnyStore.POSTGRES.open(folder), Addressing.OURS)) {
      List<String> bodies = new RandomBodies(43).bodies();
      bench.record(bodies.subList(0, bodies.size() / 2));
      Publisher one = bench.publisher(1);
      drained(bench);
      Publisher two = bench.publisher(2);
      assertThat(one.leads()).isTrue();
      bench.record(bodies.subList(bodies.size() / 2, bodies.size()));
      drained(bench);
      assertThat(two.leads()).isFalse();
      assertThat(two.sent()).isZero();

      one.close();
      bench.record(new RandomBodies(44).bodies());
      drained(bench);
      assertThat(two.leads()).isTrue();
      bench.assertEqual();
    }
  }

  private static Publishing publishing(Bench bench) {
    Publisher publisher = bench.unstarted(7);
    return new Publishing(
        bench.outbox(), Optional.of(publisher), bench.hospital.base(), java.time.Clock.systemUTC());
  }
}
