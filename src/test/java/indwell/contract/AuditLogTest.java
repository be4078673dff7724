package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryAuditLog;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Action;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditLog;
import indwell.port.AuditLog.Numbered;
import indwell.port.AuditLog.Question;
import indwell.port.ClinicalStore;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What every audit trail means. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditLogTest {
  private static final Instant T = Instant.parse("2026-03-10T12:00:00.123Z");

  private static final Agent PERSON = new Agent(Kind.KNOWN, "pages", Optional.of("staff-4711"));
  private static final Agent PROGRAM = new Agent(Kind.KNOWN, "ehr", Optional.empty());
  private static final Agent NOBODY = new Agent(Kind.NOBODY, "", Optional.empty());

  private static final AuditEntry READ =
      new AuditEntry(
          T,
          PROGRAM,
          "10.0.0.7",
          Action.READ,
          "GET Patient/{id}",
          Optional.of("Patient/p1"),
          Optional.of("p1"),
          200);
  private static final AuditEntry REFUSED =
      new AuditEntry(
          T.plusMillis(1),
          NOBODY,
          "10.0.0.8",
          Action.EXECUTE,
          "GET $overdue",
          Optional.empty(),
          Optional.empty(),
          401);
  private static final AuditEntry WRITTEN =
      new AuditEntry(
          T.plusMillis(2),
          PERSON,
          "::1",
          Action.CREATE,
          "POST /events",
          Optional.of("Procedure/x"),
          Optional.of("p2"),
          201);

  @TempDir Path folder;

  private static AuditLog log(ClinicalStore store) {
    return store instanceof JdbcStore jdbc ? jdbc.audit() : new MemoryAuditLog();
  }

  private static Question all(int limit) {
    return new Question(
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        limit);
  }

  private static List<AuditEntry> entries(List<Numbered> rows) {
    return rows.stream().map(Numbered::entry).toList();
  }

  @ParameterizedTest
  @EnumSource
  void rows_come_back_as_they_were_added_newest_first_and_page_by_page(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      AuditLog log = log(store);
      log.append(List.of());
      log.append(List.of(READ, REFUSED));
      log.append(List.of(WRITTEN));

      assertThat(entries(log.find(all(10)))).containsExactly(WRITTEN, REFUSED, READ);
      List<Numbered> first = log.find(all(2));
      assertThat(entries(first)).containsExactly(WRITTEN, REFUSED);
      Question rest =
          new Question(
              Optional.empty(),
              Optional.empty(),
              Optional.empty(),
              Optional.empty(),
              Optional.empty(),
              Optional.of(first.get(1).number()),
              2);
      assertThat(entries(log.find(rest))).containsExactly(READ);
    }
  }

  @ParameterizedTest
  @EnumSource
  void rows_are_found_by_time_client_patient_and_entity(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      AuditLog log = log(store);
      log.append(List.of(READ, REFUSED, WRITTEN));

      assertThat(asked(log, T, T.plusMillis(2), "", "", "")).containsExactly(REFUSED, READ);
      assertThat(asked(log, T.plusMillis(1), T.plusMillis(2), "", "", "")).containsExactly(REFUSED);
      assertThat(asked(log, T, T.plusMillis(9), "ehr", "", "")).containsExactly(READ);
      assertThat(asked(log, T, T.plusMillis(9), "", "p2", "")).containsExactly(WRITTEN);
      assertThat(asked(log, T, T.plusMillis(9), "", "", "Patient/p1")).containsExactly(READ);
      assertThat(asked(log, T, T.plusMillis(9), "ehr", "p2", "")).isEmpty();
    }
  }

  private static List<AuditEntry> asked(
      AuditLog log, Instant from, Instant end, String client, String patient, String entity) {
    return entries(
        log.find(
            new Question(
                Optional.of(from),
                Optional.of(end),
                some(client),
                some(patient),
                some(entity),
                Optional.empty(),
                10)));
  }

  private static Optional<String> some(String text) {
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }
}
