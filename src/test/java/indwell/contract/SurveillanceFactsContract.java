package indwell.contract;

import static indwell.contract.Samples.NOON;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.WardMonth;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import indwell.port.SurveillanceFacts.Change;
import indwell.port.SurveillanceFacts.Recorded;
import indwell.port.SurveillanceFacts.Stated;
import java.time.Instant;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What every {@link SurveillanceFacts} does. A subclass says only how empty ones are opened. */
@DisplayNameGeneration(ReplaceUnderscores.class)
abstract class SurveillanceFactsContract {
  static final WardMonth MARCH = month("A-1", "2026-03");

  protected SurveillanceFacts facts;

  /** Opens empty ones. */
  abstract SurveillanceFacts openEmpty() throws Exception;

  /** Closes what was opened. */
  abstract void closeAll() throws Exception;

  @BeforeEach
  void open() throws Exception {
    facts = openEmpty();
  }

  @AfterEach
  void close() throws Exception {
    closeAll();
  }

  static WardMonth month(String ward, String month) {
    return new WardMonth(new Ward(ward), YearMonth.parse(month));
  }

  static Stated stated(WardMonth month, String canonical) {
    return new Stated(month, canonical, OptionalInt.empty());
  }

  static StoredFacts stored(WardMonth month, int version, Instant at, String canonical) {
    return new StoredFacts(month, version, at, canonical);
  }

  private List<Change> record(Instant at, Stated... all) {
    return facts.record(List.of(all), at, none -> List.of()).stream()
        .map(Recorded::change)
        .toList();
  }

  @Test
  void an_unknown_month_has_nothing() {
    assertThat(facts.newest(MARCH)).isEmpty();
    assertThat(facts.versions(MARCH)).isEmpty();
    assertThat(facts.newest(YearMonth.of(2000, 1), YearMonth.of(2099, 12))).isEmpty();
    assertThat(facts.record(List.of(), NOON, none -> List.of())).isEmpty();
  }

  @Test
  void facts_come_back_as_they_were_kept() {
    String text = "{\"baseline\":\"Fr\u00fch \ud83c\udfe5 'x'; -- \\\\ \u2028 %\"}";

    assertThat(facts.record(List.of(stated(MARCH, text)), NOON, none -> List.of()))
        .containsExactly(
            new Recorded(Change.CREATED, java.util.Optional.of(stored(MARCH, 1, NOON, text))));
    assertThat(facts.newest(MARCH)).contains(stored(MARCH, 1, NOON, text));
  }

  @Test
  void another_content_is_a_further_version_and_the_same_is_none() {
    assertThat(record(NOON, stated(MARCH, "{\"a\":17}"))).containsExactly(Change.CREATED);
    assertThat(record(NOON.plusSeconds(7), stated(MARCH, "{\"a\":17}")))
        .containsExactly(Change.UNCHANGED);
    assertThat(record(NOON.plusSeconds(9), stated(MARCH, "{\"a\":23}")))
        .containsExactly(Change.CHANGED);
    assertThat(record(NOON.plusSeconds(11), stated(MARCH, "{\"a\":17}")))
        .containsExactly(Change.CHANGED);

    assertThat(facts.versions(MARCH))
        .containsExactly(
            stored(MARCH, 3, NOON.plusSeconds(11), "{\"a\":17}"),
            stored(MARCH, 2, NOON.plusSeconds(9), "{\"a\":23}"),
            stored(MARCH, 1, NOON, "{\"a\":17}"));
  }

  @Test
  void a_version_named_must_be_the_newest() {
    record(NOON, stated(MARCH, "{\"a\":1}"));
    record(NOON, stated(MARCH, "{\"a\":2}"));

    assertThat(record(NOON, new Stated(MARCH, "{\"a\":3}", OptionalInt.of(1))))
        .containsExactly(Change.STALE);
    assertThat(record(NOON, new Stated(month("B", "2026-03"), "{}", OptionalInt.of(1))))
        .containsExactly(Change.STALE);
    assertThat(record(NOON, new Stated(MARCH, "{\"a\":3}", OptionalInt.of(2))))
        .containsExactly(Change.CHANGED);
    assertThat(facts.versions(MARCH)).hasSize(3);
  }

  @Test
  void when_one_is_stale_nothing_is_written() {
    WardMonth other = month("B-7", "2026-02");

    assertThat(record(NOON, stated(other, "{}"), new Stated(MARCH, "{}", OptionalInt.of(4))))
        .containsExactly(Change.CREATED, Change.STALE);
    assertThat(facts.newest(other)).isEmpty();
  }

  @Test
  void many_months_are_taken_at_once_and_answered_in_their_order() {
    record(NOON, stated(month("B", "2026-01"), "{\"a\":5}"));

    assertThat(
            record(
                NOON,
                stated(month("C", "2025-12"), "{\"a\":4}"),
                stated(month("B", "2026-01"), "{\"a\":5}"),
                stated(month("A", "2026-02"), "{\"a\":6}")))
        .containsExactly(Change.CREATED, Change.UNCHANGED, Change.CREATED);
  }

  @Test
  void the_newest_of_a_range_are_found_by_ward_and_month() {
    record(
        NOON,
        stated(month("b", "2025-12"), "{\"a\":1}"),
        stated(month("a", "2026-01"), "{\"a\":2}"),
        stated(month("B", "2026-02"), "{\"a\":3}"),
        stated(month("b", "2026-01"), "{\"a\":4}"),
        stated(month("b", "2026-03"), "{\"a\":5}"));
    record(NOON, stated(month("b", "2026-01"), "{\"a\":6}"));

    assertThat(facts.newest(YearMonth.of(2026, 1), YearMonth.of(2026, 2)).values())
        .extracting(one -> one.month().path() + " " + one.canonical())
        .containsExactly("B/2026-02 {\"a\":3}", "a/2026-01 {\"a\":2}", "b/2026-01 {\"a\":6}");
  }

  @Test
  void no_change_of_eight_threads_is_lost() throws Exception {
    int threads = 8;
    int each = 6;
    ExecutorService pool = Executors.newFixedThreadPool(threads);
    try {
      List<Future<?>> all = new ArrayList<>();
      for (int t = 0; t < threads; t++) {
        int thread = t;
        all.add(
            pool.submit(
                () -> {
                  for (int n = 0; n < each; n++) {
                    insist("{\"a\":" + (thread * 100 + n) + "}");
                  }
                }));
      }
      for (Future<?> one : all) {
        one.get();
      }
    } finally {
      pool.shutdown();
    }
    assertThat(facts.versions(MARCH)).hasSize(threads * each);
    assertThat(facts.versions(MARCH).stream().map(StoredFacts::canonical).distinct())
        .hasSize(threads * each);
  }

  /** A store that is too busy says so; whoever asks again is served. */
  private void insist(String canonical) {
    while (true) {
      try {
        record(NOON, stated(MARCH, canonical));
        return;
      } catch (indwell.port.StoreUnavailable | IllegalStateException busy) {
        Thread.onSpinWait();
      }
    }
  }
}
