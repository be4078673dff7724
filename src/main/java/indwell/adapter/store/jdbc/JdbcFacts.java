package indwell.adapter.store.jdbc;

import indwell.domain.surveillance.WardMonth;
import indwell.port.AuditEntry;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.IntConsumer;

/**
 * The facts over SQL, in the same database as the events and by the same durable commit. Nothing is
 * locked beforehand: of two who add the same version the second one starts again.
 */
final class JdbcFacts implements SurveillanceFacts {
  private final Database database;
  private final IntConsumer audited;

  /**
   * @param audited told of rows of the audit trail that are durable
   */
  JdbcFacts(Database database, IntConsumer audited) {
    this.database = database;
    this.audited = audited;
  }

  @Override
  public List<Recorded> record(
      List<Stated> stated, Instant now, Function<List<Recorded>, List<AuditEntry>> rows) {
    return stated.isEmpty() ? List.of() : JdbcStore.attempt(() -> recordOnce(stated, now, rows));
  }

  private List<Recorded> recordOnce(
      List<Stated> stated, Instant now, Function<List<Recorded>, List<AuditEntry>> rows) {
    try (WriteSession session = database.begin()) {
      Map<WardMonth, StoredFacts> known = newestOf(stated, new FactsTable(session.reading()));
      List<Recorded> all =
          stated.stream()
              .map(one -> outcome(one, Optional.ofNullable(known.get(one.month())), now))
              .toList();
      Collection<StoredFacts> further = further(all);
      if (!further.isEmpty()) {
        new FactsTable(session.writing()).append(further);
        List<AuditEntry> entries = rows.apply(all);
        new AuditTable(session.writing()).add(entries);
        session.commit();
        audited.accept(entries.size());
      }
      return all;
    }
  }

  private static Map<WardMonth, StoredFacts> newestOf(List<Stated> stated, FactsTable table) {
    YearMonth first = stated.get(0).month().month();
    YearMonth last = first;
    for (Stated one : stated) {
      YearMonth month = one.month().month();
      first = month.isBefore(first) ? month : first;
      last = month.isAfter(last) ? month : last;
    }
    return table.newest(first, last);
  }

  /** What is to be added, by ward and month, so that two never wait for each other in a circle. */
  private static Collection<StoredFacts> further(List<Recorded> all) {
    if (!SurveillanceFacts.wrote(all)) {
      return List.of();
    }
    SortedMap<WardMonth, StoredFacts> further = new TreeMap<>();
    for (Recorded one : all) {
      if (one.change() != Change.UNCHANGED) {
        one.newest().ifPresent(facts -> further.put(facts.month(), facts));
      }
    }
    return further.values();
  }

  private static Recorded outcome(Stated stated, Optional<StoredFacts> newest, Instant now) {
    int version = newest.map(StoredFacts::version).orElse(0);
    if (stated.ifVersion().isPresent() && stated.ifVersion().getAsInt() != version) {
      return new Recorded(Change.STALE, newest);
    }
    if (newest.filter(one -> one.canonical().equals(stated.canonical())).isPresent()) {
      return new Recorded(Change.UNCHANGED, newest);
    }
    Instant recordedAt = now.truncatedTo(ChronoUnit.MILLIS);
    return new Recorded(
        version == 0 ? Change.CREATED : Change.CHANGED,
        Optional.of(new StoredFacts(stated.month(), version + 1, recordedAt, stated.canonical())));
  }

  @Override
  public Optional<StoredFacts> newest(WardMonth month) {
    return versions(month).stream().findFirst();
  }

  @Override
  public List<StoredFacts> versions(WardMonth month) {
    return read(table -> table.versions(month));
  }

  @Override
  public SortedMap<WardMonth, StoredFacts> newest(YearMonth start, YearMonth endInclusive) {
    return read(table -> table.newest(start, endInclusive));
  }

  private <T> T read(Function<FactsTable, T> question) {
    return JdbcStore.attempt(
        () -> {
          try (Connection connection = database.reader()) {
            return question.apply(
                new FactsTable(new Sql(database.dialect(), Connections.fixed(connection))));
          } catch (SQLException e) {
            throw Sql.failure(database.dialect(), e);
          }
        });
  }
}
