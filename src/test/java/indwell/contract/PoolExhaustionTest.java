package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.jdbc.PoolLimits;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import indwell.port.StoreCrowded;
import indwell.port.StoreUnavailable;
import indwell.usecase.Received;
import indwell.usecase.RecordEvents;
import indwell.usecase.SharedCommits;
import indwell.usecase.audit.KeepAudit;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Every connection to the database is in use and none comes back. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PoolExhaustionTest {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");

  /** Two may wait as long as they like. */
  private static PoolLimits few(int connections) {
    return new PoolLimits(connections, 2, Duration.ofSeconds(100), Duration.ZERO);
  }

  private final ExecutorService threads = Executors.newCachedThreadPool();
  private final CountDownLatch holding = new CountDownLatch(2);
  private final CountDownLatch letGo = new CountDownLatch(1);

  @TempDir Path folder;

  @AfterEach
  void end() {
    letGo.countDown();
    threads.shutdownNow();
  }

  private JdbcStore open(String kind) throws Exception {
    return kind.equals("sqlite")
        ? SqliteStore.open(folder, few(2))
        : PostgresStore.open(
            TestPostgres.newDatabase(), TestPostgres.USER, TestPostgres.PASSWORD, few(2));
  }

  /**
   * All connections are held from here on: two that read, or that write to the server; one alone
   * writes to a file. (Less than two are not enough to bring the tables of a server up to date.)
   */
  private List<CompletableFuture<String>> holdAll(JdbcStore store, String kind, boolean writing)
      throws Exception {
    boolean one = kind.equals("sqlite") && writing;
    if (one) {
      holding.countDown();
    }
    List<CompletableFuture<String>> held =
        Stream.generate(() -> beside(() -> ask(store, writing, this::hold)))
            .limit(one ? 1 : 2)
            .toList();
    holding.await();
    return held;
  }

  private <T> CompletableFuture<T> beside(Supplier<T> work) {
    return CompletableFuture.supplyAsync(work, threads);
  }

  private String hold() {
    try {
      holding.countDown();
      letGo.await();
      return "held";
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return "interrupted";
    }
  }

  private static <T> T ask(JdbcStore store, boolean writing, Supplier<T> work) {
    return writing
        ? store.write(
            tx -> {
              tx.audit(List.of(row()));
              // What is collected goes to the database before the next question.
              tx.whereaboutsVersion();
              return work.get();
            })
        : store.read(state -> work.get());
  }

  private static AuditEntry row() {
    return new AuditEntry(
        NOW,
        Origin.SERVICE,
        Interaction.READ,
        Optional.empty(),
        Optional.empty(),
        "",
        200,
        Optional.empty());
  }

  /** Nothing of this takes time: the one too many is told while all others are still there. */
  @ParameterizedTest
  @CsvSource({"sqlite, false", "sqlite, true", "postgresql, false", "postgresql, true"})
  void beyond_those_who_may_wait_whoever_comes_is_told_while_they_wait(String kind, boolean writing)
      throws Exception {
    try (JdbcStore store = open(kind)) {
      List<CompletableFuture<String>> held = holdAll(store, kind, writing);
      assertThat(store.crowded()).isFalse();
      List<CompletableFuture<String>> waiting =
          List.of(
              beside(() -> ask(store, writing, () -> "at last")),
              beside(() -> ask(store, writing, () -> "at last")));
      Awaitility.await().until(store::crowded);

      assertThatThrownBy(() -> ask(store, writing, () -> "never")).isInstanceOf(StoreCrowded.class);

      assertThat(held).noneMatch(CompletableFuture::isDone);
      assertThat(waiting).noneMatch(CompletableFuture::isDone);
      letGo.countDown();
      for (CompletableFuture<String> one : held) {
        assertThat(one.get()).isEqualTo("held");
      }
      for (CompletableFuture<String> one : waiting) {
        assertThat(one.get()).isEqualTo("at last");
      }
      assertThat(store.crowded()).isFalse();
      assertThat(store.available()).isTrue();
    }
  }

  @Test
  void who_finds_no_connection_is_told_and_is_served_when_there_is_one() throws Exception {
    PoolLimits shortly = new PoolLimits(2, 2, Duration.ofMillis(50), Duration.ofMinutes(1));
    try (JdbcStore store = SqliteStore.open(folder, shortly)) {
      List<CompletableFuture<String>> held = holdAll(store, "sqlite", false);

      assertThatThrownBy(() -> ask(store, false, () -> "never"))
          .isInstanceOf(StoreCrowded.class)
          .isInstanceOf(StoreUnavailable.class);
      assertThat(held).noneMatch(CompletableFuture::isDone);
      letGo.countDown();
      held.forEach(CompletableFuture::join);

      assertThat(ask(store, false, () -> "at last")).isEqualTo("at last");
    }
  }

  /** Whoever works on its own comes again by itself; callers are told to. */
  @ParameterizedTest
  @CsvSource({"sqlite", "postgresql"})
  void group_commits_and_the_audit_trail_go_on_when_there_is_one_again(String kind)
      throws Exception {
    try (JdbcStore store = open(kind);
        KeepAudit trail = new KeepAudit(store)) {
      SharedCommits events =
          new SharedCommits(
              new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC)));
      List<CompletableFuture<String>> held = holdAll(store, kind, true);
      beside(() -> ask(store, true, () -> "waits"));
      beside(() -> ask(store, true, () -> "waits"));
      Awaitility.await().until(store::crowded);

      assertThat(record(events)).isEqualTo(Outcome.FAILED);
      assertThat(trail.keep(List.of(row()), List.of(row())).toCompletableFuture().get()).isFalse();
      assertThat(held).noneMatch(CompletableFuture::isDone);
      letGo.countDown();
      held.forEach(CompletableFuture::join);

      Awaitility.await().until(() -> record(events) == Outcome.RECORDED);
      // Those who held and waited, that of the event, and that of the trail.
      Awaitility.await().until(() -> Audits.all(store).size() == held.size() + 4);
      Awaitility.await().until(() -> trail.rowsWaiting() == 0);
    }
  }

  private static Outcome record(SharedCommits events) {
    String body =
        "{\"source\":\"s\",\"eventId\":\"a\",\"type\":\"weight-measured\","
            + "\"occurredAt\":\"2026-03-10T10:00:00Z\","
            + "\"patient\":{\"system\":\"urn:test:mrn\",\"value\":\"p1\"},\"details\":{\"kg\":70}}";
    EventResult result =
        events
            .record(
                List.of(
                    new Received(
                        EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW)))
            .get(0);
    return result.outcome();
  }
}
