package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.contract.Satisfied;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.usecase.RandomBodies;
import indwell.usecase.RecordEvents;
import indwell.usecase.publish.Bench;
import indwell.usecase.publish.FakeHospital;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The record of a folder against a hospital, as an operator compares them. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReconcileCommandTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(30));

  @TempDir Path folder;
  private final FakeHospital hospital = new FakeHospital(false);

  /** The command reads the configuration of the service; the environment cannot be set here. */
  @BeforeEach
  void configure() {
    settings().forEach(System::setProperty);
  }

  @AfterEach
  void leave() {
    settings().keySet().forEach(System::clearProperty);
    hospital.close();
  }

  private Map<String, String> settings() {
    return Map.of("indwell.data-dir", folder.toString(), "indwell.publish.url", hospital.base());
  }

  private void published() throws Exception {
    JdbcStore store = SqliteStore.open(folder);
    RecordEvents events =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
    for (String body : new RandomBodies(71).bodies()) {
      var unused = events.record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
    }
    try (store;
        var publisher =
            Bench.publisher(store, hospital.base(), upstream -> upstream, "a process")) {
      publisher.start();
      Awaitility.await()
          .atMost(Duration.ofSeconds(60))
          .until(
              () -> {
                var backlog = store.outbox().backlog();
                return backlog.waiting() == 0 && backlog.unread() == 0;
              });
    }
  }

  @Test
  void what_was_published_is_the_same_on_both_sides() throws Exception {
    published();

    Ran ran = Ran.command("reconcile");

    assertThat(ran.code()).as(ran.err()).isZero();
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err())
        .contains(hospital.versions().size() + " resources compared: ")
        .contains("0 missing")
        .contains("0 different");
  }

  @Test
  void what_was_lost_there_and_what_was_changed_there_is_named() throws Exception {
    published();
    String lost = first("Procedure/");
    String changed = first("Device/");
    hospital.change(lost, Optional.empty());
    var device = hospital.versions().get(changed).get(0).copy();
    ((org.hl7.fhir.r4.model.Device) device).setDistinctIdentifier("somebody else");
    hospital.change(changed, Optional.of(device));

    Ran ran = Ran.command("reconcile", "--format", "json");

    assertThat(ran.code()).as(ran.err()).isEqualTo(1);
    assertThat(ran.out().lines())
        .containsExactlyInAnyOrder(
            "{\"difference\":\"missing\",\"reference\":\"" + lost + "\",\"waiting\":false}",
            "{\"difference\":\"different\",\"reference\":\"" + changed + "\",\"waiting\":false}");
    assertThat(ran.err()).contains("1 missing").contains("1 different");
  }

  @Test
  void a_hospital_that_does_not_answer_is_no_difference() throws Exception {
    published();
    hospital.close();

    Ran ran = Ran.command("reconcile");

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err()).isNotBlank();
  }

  private String first(String type) {
    return hospital.versions().keySet().stream()
        .filter(reference -> reference.startsWith(type))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void without_an_address_there_is_nothing_to_compare_with() {
    System.clearProperty("indwell.publish.url");

    Ran ran = Ran.command("reconcile");

    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains("INDWELL_PUBLISH_URL is not set");
  }
}
