package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.domain.event.Ward;
import indwell.domain.surveillance.WardMonth;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.ResourceKey;
import indwell.port.SurveillanceFacts;
import indwell.port.SurveillanceFacts.Change;
import indwell.port.SurveillanceFacts.Recorded;
import indwell.port.SurveillanceFacts.Stated;
import java.nio.file.Path;
import java.time.Instant;
import java.time.YearMonth;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Facts and what is done to publishing are no resources, and have their rows with them as well. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditedActsTest {
  private static final Instant NOON = Instant.parse("2026-03-10T12:00:00Z");
  private static final WardMonth MARCH = new WardMonth(new Ward("ICU"), YearMonth.of(2026, 3));
  private static final ResourceKey DEVICE = new ResourceKey("Device", "d17");

  @TempDir Path folder;

  private static AuditEntry row(int status) {
    return new AuditEntry(
        NOON,
        Origin.SERVICE,
        Interaction.UPDATE,
        Optional.empty(),
        Optional.empty(),
        "",
        status,
        Optional.empty());
  }

  private static SurveillanceFacts facts(ClinicalStore store) {
    return store instanceof JdbcStore jdbc
        ? jdbc.facts()
        : new MemoryFacts(
            rows ->
                store.write(
                    tx -> {
                      tx.audit(rows);
                      return true;
                    }));
  }

  private static List<Change> record(
      SurveillanceFacts facts,
      String canonical,
      OptionalInt ifVersion,
      Function<List<Recorded>, List<AuditEntry>> rows) {
    return facts.record(List.of(new Stated(MARCH, canonical, ifVersion)), NOON, rows).stream()
        .map(Recorded::change)
        .toList();
  }

  private static List<AuditEntry> neverAsked(List<Recorded> recorded) {
    throw new AssertionError("Nothing was written: " + recorded);
  }

  @ParameterizedTest
  @EnumSource
  void the_row_of_facts_is_written_with_them(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      SurveillanceFacts facts = facts(store);
      Function<List<Recorded>, List<AuditEntry>> rows =
          taken -> List.of(row(taken.get(0).change() == Change.CREATED ? 201 : 200));
      assertThat(record(facts, "{\"a\":1}", OptionalInt.empty(), rows))
          .containsExactly(Change.CREATED);
      assertThat(record(facts, "{\"a\":2}", OptionalInt.of(1), rows))
          .containsExactly(Change.CHANGED);
      assertThat(Audits.all(store)).containsExactly(row(201), row(200));
      assertCounted(store, 2);
    }
  }

  @ParameterizedTest
  @EnumSource
  void where_nothing_is_written_no_row_is_asked_for(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      SurveillanceFacts facts = facts(store);
      record(facts, "{\"a\":1}", OptionalInt.empty(), taken -> List.of());
      assertThat(record(facts, "{\"a\":1}", OptionalInt.empty(), AuditedActsTest::neverAsked))
          .containsExactly(Change.UNCHANGED);
      assertThat(record(facts, "{\"a\":2}", OptionalInt.of(7), AuditedActsTest::neverAsked))
          .containsExactly(Change.STALE);
      assertThat(Audits.all(store)).isEmpty();
    }
  }

  /** Only a database takes back what was begun; a row that cannot be written stands for a fault. */
  @ParameterizedTest
  @EnumSource(mode = EnumSource.Mode.EXCLUDE, names = "MEMORY")
  void facts_whose_row_cannot_be_written_are_not_kept(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      SurveillanceFacts facts = facts(store);
      assertThatThrownBy(
              () ->
                  record(
                      facts,
                      "{\"a\":1}",
                      OptionalInt.empty(),
                      taken -> {
                        throw new IllegalStateException("no row");
                      }))
          .hasMessage("no row");
      assertThat(facts.newest(MARCH)).isEmpty();
      assertThat(Audits.all(store)).isEmpty();
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_release_has_its_row_with_it_and_one_that_did_nothing_has_none(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      Outbox outbox = OutboxTest.outbox(store);
      outbox.hold(new LaneHold("p1", true, 1, NOON, DEVICE.reference(), "422", NOON));
      assertThat(outbox.release("p1", Optional.of(DEVICE), List.of(row(200)))).isTrue();
      assertThat(outbox.held("p1")).isEmpty();
      assertThat(outbox.release("p1", Optional.of(DEVICE), List.of(row(201)))).isFalse();
      assertThat(Audits.all(store)).containsExactly(row(200));
      assertCounted(store, 1);
    }
  }

  /** What the figures show. */
  private static void assertCounted(ClinicalStore store, long rows) {
    if (store instanceof JdbcStore jdbc) {
      assertThat(jdbc.auditedRows()).isEqualTo(rows);
    }
  }
}
