package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.StoreUnavailable;
import java.io.IOException;
import java.lang.reflect.Proxy;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.awaitility.core.ConditionFactory;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Callers that wait at the same time share transactions; each is given its own outcomes. */
@DisplayNameGeneration(ReplaceUnderscores.class)
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class SharedCommitsTest {
  private static final Instant NOW = Instant.parse("2026-03-27T12:00:00Z");
  private static final int CALLERS = 40;
  private static final Duration PATIENCE = Duration.ofMillis(20);
  private static final Duration FOR_EVER = Duration.ofDays(1);

  private static final ConditionFactory AWAIT =
      Awaitility.await()
          .pollDelay(Duration.ZERO)
          .pollInterval(Duration.ofMillis(2))
          .atMost(Duration.ofSeconds(30));

  private final ExecutorService threads = Executors.newFixedThreadPool(CALLERS);
  private final AtomicInteger transactions = new AtomicInteger();
  private final CountDownLatch open = new CountDownLatch(1);

  /** The number of a transaction that waits for {@link #released} as well. */
  private volatile int heldUp;

  private final CountDownLatch released = new CountDownLatch(1);

  @AfterEach
  void stop() {
    threads.shutdownNow();
  }

  @Test
  void those_who_come_while_the_store_is_busy_share_what_follows() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    List<Future<List<EventResult>>> callers = new ArrayList<>();
    for (int i = 0; i < CALLERS; i++) {
      callers.add(call(shared, List.of(weight("e" + i, 70))));
    }
    awaitWaiting(shared, CALLERS - SharedCommits.LANES);
    open.countDown();
    for (int i = 0; i < CALLERS; i++) {
      EventResult result = callers.get(i).get(30, TimeUnit.SECONDS).get(0);
      assertThat(result.outcome()).isEqualTo(Outcome.RECORDED);
      assertThat(result.eventId()).contains("e" + i);
    }
    assertThat(transactions.get()).isLessThanOrEqualTo(SharedCommits.LANES + 1);
  }

  @Test
  void a_patient_is_in_one_lane_at_a_time_and_others_pass() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    Future<List<EventResult>> first = call(shared, List.of(weight("one", 70)));
    awaitTransactions(1);
    Future<List<EventResult>> again = call(shared, List.of(weight("one", 71), weight("two", 70)));
    awaitWaiting(shared, 1);
    Future<List<EventResult>> behind = call(shared, List.of(weight("two", 72)));
    awaitWaiting(shared, 2);
    Future<List<EventResult>> other = call(shared, List.of(weight("three", 70)));
    awaitTransactions(2);
    assertThat(shared.waiting()).isEqualTo(2);
    open.countDown();
    assertThat(outcomes(first)).containsExactly(Outcome.RECORDED);
    assertThat(outcomes(other)).containsExactly(Outcome.RECORDED);
    // The same version with other content, so the order shows.
    assertThat(outcomes(again)).containsExactly(Outcome.CONFLICT, Outcome.RECORDED);
    assertThat(outcomes(behind)).containsExactly(Outcome.CONFLICT);
    assertThat(transactions).hasValue(3);
  }

  @Test
  void whoever_comes_waits_for_company_or_for_the_larger_group_that_is_under_way()
      throws Exception {
    SharedCommits shared = over(new MemoryStore(), FOR_EVER);
    Future<List<EventResult>> three =
        call(shared, List.of(weight("a", 70), weight("b", 70), weight("c", 70)));
    awaitTransactions(1);
    Future<List<EventResult>> two = call(shared, List.of(weight("d", 70), weight("e", 70)));
    awaitWaiting(shared, 1);
    assertThat(transactions).hasValue(1);
    Future<List<EventResult>> one = call(shared, List.of(weight("f", 70)));
    awaitTransactions(2);
    assertThat(shared.waiting()).isZero();
    Future<List<EventResult>> last = call(shared, List.of(weight("g", 70)));
    awaitWaiting(shared, 1);
    open.countDown();
    for (Future<List<EventResult>> caller : List.of(three, two, one, last)) {
      assertThat(outcomes(caller)).containsOnly(Outcome.RECORDED);
    }
    assertThat(transactions).hasValue(3);
  }

  @Test
  void a_large_group_that_is_held_up_holds_up_nobody_else() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    Future<List<EventResult>> two = call(shared, List.of(weight("a", 70), weight("b", 70)));
    awaitTransactions(1);
    Future<List<EventResult>> one = call(shared, List.of(weight("c", 70)));
    awaitTransactions(2);
    open.countDown();
    assertThat(outcomes(two)).containsOnly(Outcome.RECORDED);
    assertThat(outcomes(one)).containsOnly(Outcome.RECORDED);
  }

  @Test
  void who_waited_for_a_lane_goes_beside_a_larger_group_that_is_held_up() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    Future<List<EventResult>> one = call(shared, List.of(weight("a", 70)));
    awaitTransactions(1);
    Future<List<EventResult>> two = call(shared, List.of(weight("b", 70), weight("c", 70)));
    awaitTransactions(2);
    Future<List<EventResult>> last = call(shared, List.of(weight("d", 70)));
    awaitWaiting(shared, 1);
    heldUp = 2;
    open.countDown();
    assertThat(outcomes(one)).containsOnly(Outcome.RECORDED);
    assertThat(outcomes(last)).containsOnly(Outcome.RECORDED);
    assertThat(two).isNotDone();
    released.countDown();
    assertThat(outcomes(two)).containsOnly(Outcome.RECORDED);
  }

  private static List<Outcome> outcomes(Future<List<EventResult>> caller) throws Exception {
    return caller.get(30, TimeUnit.SECONDS).stream().map(EventResult::outcome).toList();
  }

  private void awaitTransactions(int begun) {
    AWAIT.until(() -> transactions.get() >= begun);
  }

  @Test
  void of_equal_events_at_once_one_is_recorded() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    open.countDown();
    List<Future<List<EventResult>>> callers =
        IntStream.range(0, CALLERS)
            .mapToObj(i -> call(shared, List.of(weight("same", 70), weight("own" + i, 71))))
            .toList();
    List<Outcome> same = new ArrayList<>();
    for (Future<List<EventResult>> caller : callers) {
      List<EventResult> results = caller.get(30, TimeUnit.SECONDS);
      same.add(results.get(0).outcome());
      assertThat(results.get(1).outcome()).isEqualTo(Outcome.RECORDED);
    }
    assertThat(same).filteredOn(Outcome.RECORDED::equals).hasSize(1);
    assertThat(same).filteredOn(Outcome.DUPLICATE::equals).hasSize(CALLERS - 1);
  }

  /** Refused events need no store, so that callers come and go as fast as lanes change hands. */
  @Test
  void whoever_comes_while_lanes_change_hands_is_answered_with_its_own() throws Exception {
    SharedCommits shared = over(new MemoryStore());
    List<Future<Boolean>> callers = new ArrayList<>();
    for (int i = 0; i < CALLERS; i++) {
      String id = "own" + i;
      List<Received> refused = List.of(weight(id, -1));
      callers.add(
          threads.submit(
              () ->
                  IntStream.range(0, 60_000)
                      .allMatch(
                          n -> shared.record(refused).get(0).eventId().equals(Optional.of(id)))));
    }
    for (Future<Boolean> caller : callers) {
      assertThat(caller.get(60, TimeUnit.SECONDS)).isTrue();
    }
    assertThat(shared.waiting()).isZero();
  }

  @Test
  void a_store_that_is_away_is_told_to_all_and_asked_twice() throws Exception {
    open.countDown();
    SharedCommits shared = over(awayStore());
    List<EventResult> results =
        call(shared, IntStream.range(0, 20).mapToObj(i -> weight("e" + i, 70)).toList())
            .get(30, TimeUnit.SECONDS);
    assertThat(results).hasSize(20).allMatch(one -> one.outcome() == Outcome.FAILED);
    assertThat(results).allMatch(one -> one.status() == 503);
    // Once for all together, once for the first of them alone.
    assertThat(transactions).hasValue(2);
  }

  private Future<List<EventResult>> call(SharedCommits shared, List<Received> events) {
    return threads.submit(() -> shared.record(events));
  }

  private static void awaitWaiting(SharedCommits shared, int callers) {
    AWAIT.until(() -> shared.waiting() >= callers);
  }

  /** Counts transactions, and lets none begin before {@link #open}. */
  private SharedCommits over(ClinicalStore store) {
    return over(store, PATIENCE);
  }

  private SharedCommits over(ClinicalStore store, Duration patience) {
    ClinicalStore counted =
        (ClinicalStore)
            Proxy.newProxyInstance(
                getClass().getClassLoader(),
                new Class<?>[] {ClinicalStore.class},
                (proxy, method, arguments) -> {
                  int number = transactions.incrementAndGet();
                  open.await();
                  if (number == heldUp) {
                    released.await();
                  }
                  return write(store, arguments[0]);
                });
    return new SharedCommits(
        new RecordEvents(counted, new Agreeing(), new MappingContext(ZoneOffset.UTC)), patience);
  }

  @SuppressWarnings("unchecked")
  private static Object write(ClinicalStore store, Object work) {
    return store.write((Function<ClinicalStore.Writing, Object>) work);
  }

  private static ClinicalStore awayStore() {
    return (ClinicalStore)
        Proxy.newProxyInstance(
            SharedCommitsTest.class.getClassLoader(),
            new Class<?>[] {ClinicalStore.class},
            (proxy, method, arguments) -> {
              throw new StoreUnavailable("The store is not available.", new IOException());
            });
  }

  private static Received weight(String id, int kg) {
    String body =
        "{\"source\":\"ward\",\"eventId\":\"%s\",\"type\":\"weight-measured\","
            + "\"occurredAt\":\"2026-03-27T08:00:00Z\","
            + "\"patient\":{\"system\":\"urn:p\",\"value\":\"%s\"},\"details\":{\"kg\":%d}}";
    byte[] bytes = body.formatted(id, id, kg).getBytes(StandardCharsets.UTF_8);
    return new Received(EventBodies.line(bytes, NOW), NOW);
  }

  private static final class Agreeing implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
