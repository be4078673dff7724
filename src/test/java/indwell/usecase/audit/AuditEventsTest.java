package indwell.usecase.audit;

import static net.javacrumbs.jsonunit.assertj.JsonAssertions.assertThatJson;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryAuditLog;
import indwell.fhir.map.FhirJson;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Action;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditLog;
import indwell.port.StoreUnavailable;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditEventsTest {
  private static final AuditLog.Question ALL =
      new AuditLog.Question(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          10_000);

  private static AuditEntry entry(int number) {
    return new AuditEntry(
        Instant.parse("2026-03-10T12:00:00Z"),
        new Agent(Kind.KNOWN, "ehr-" + number, Optional.of("staff-1")),
        "10.0.0.7",
        Action.READ,
        "GET Patient/{id}",
        Optional.of("Procedure/x"),
        Optional.of("p1"),
        403);
  }

  @Test
  void a_row_says_who_did_what_to_what_and_how_it_ended() {
    String json = FhirJson.encode(AuditEvents.of(new AuditLog.Numbered(7, entry(3))));

    assertThatJson(json)
        .isEqualTo(
            """
            {resourceType: "AuditEvent", id: "a7",
             type: {system: "http://terminology.hl7.org/CodeSystem/audit-event-type", code: "rest",
                    display: "RESTful Operation"},
             subtype: [{display: "GET Patient/{id}"}], action: "R",
             recorded: "${json-unit.any-string}", outcome: "4",
             agent: [
               {type: {coding: [{system: "http://dicom.nema.org/resources/ontology/DCM",
                                 code: "110153", display: "Source Role ID"}]},
                who: {identifier: {value: "ehr-3"}}, requestor: false,
                network: {address: "10.0.0.7", type: "2"}},
               {type: {coding: [{system: "http://terminology.hl7.org/CodeSystem/v3-ParticipationType",
                                 code: "IRCP", display: "information recipient"}]},
                who: {identifier: {value: "staff-1"}}, requestor: true}],
             source: {observer: {display: "Indwell"}},
             entity: [
               {what: {reference: "Procedure/x"},
                type: {system: "http://terminology.hl7.org/CodeSystem/audit-entity-type", code: "2",
                       display: "System Object"},
                role: {system: "http://terminology.hl7.org/CodeSystem/object-role", code: "4",
                       display: "Domain Resource"}},
               {what: {reference: "Patient/p1"},
                type: {system: "http://terminology.hl7.org/CodeSystem/audit-entity-type", code: "1",
                       display: "Person"},
                role: {system: "http://terminology.hl7.org/CodeSystem/object-role", code: "1",
                       display: "Patient"}}]}""");
  }

  @Test
  void rows_are_written_in_their_order_and_none_is_lost_at_the_end() {
    MemoryAuditLog log = new MemoryAuditLog();
    try (KeepAudit keep = new KeepAudit(log)) {
      for (int i = 0; i < 3_000; i++) {
        assertThat(keep.add(entry(i))).isTrue();
      }
    }

    List<AuditLog.Numbered> rows = log.find(ALL);
    assertThat(rows).hasSize(3_000);
    assertThat(rows.get(0).entry()).isEqualTo(entry(2_999));
    assertThat(rows.get(2_999).entry()).isEqualTo(entry(0));
  }

  /** A trail that is away twice, then there. */
  private static final class Away implements AuditLog {
    private final MemoryAuditLog log = new MemoryAuditLog();
    private int away = 2;

    @Override
    public void append(List<AuditEntry> entries) {
      assertThat(entries).isNotEmpty();
      if (away-- > 0) {
        throw new StoreUnavailable("away", new IllegalStateException());
      }
      log.append(entries);
    }

    @Override
    public List<Numbered> find(Question question) {
      return log.find(question);
    }
  }

  @Test
  void what_waits_while_the_store_is_away_is_written_afterwards_once() throws Exception {
    Away log = new Away();
    try (KeepAudit keep = new KeepAudit(log)) {
      keep.add(entry(1));
      while (log.find(ALL).isEmpty()) {
        Thread.sleep(20);
      }
    }

    assertThat(log.find(ALL)).hasSize(1);
    assertThat(log.away).isNegative();
  }

  @Test
  void what_does_not_fit_is_not_taken() {
    CountDownLatch stuck = new CountDownLatch(1);
    List<AuditEntry> written = new ArrayList<>();
    AuditLog log =
        new AuditLog() {
          @Override
          public void append(List<AuditEntry> entries) {
            try {
              stuck.await();
            } catch (InterruptedException e) {
              Thread.currentThread().interrupt();
            }
            written.addAll(entries);
          }

          @Override
          public List<Numbered> find(Question question) {
            return List.of();
          }
        };
    int taken = 0;
    try (KeepAudit keep = new KeepAudit(log, 5)) {
      for (int i = 0; i < 600; i++) {
        taken += keep.add(entry(i)) ? 1 : 0;
      }
      stuck.countDown();
    }

    assertThat(taken).isBetween(5, 10);
    assertThat(written).hasSize(taken);
  }
}
