package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.WardMonth;
import indwell.port.StoredFacts;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.YearMonth;
import java.util.Collection;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/** Table {@code surveillance_facts}. */
record FactsTable(Sql sql) {
  private static final String COLUMNS =
      "SELECT ward, month, version, recorded_at, facts FROM surveillance_facts f";

  private static final String VERSIONS =
      COLUMNS + " WHERE ward = ? AND month = ? ORDER BY version DESC";

  private static final String NEWEST =
      COLUMNS
          + " WHERE month >= ? AND month <= ? AND version = (SELECT max(g.version)"
          + " FROM surveillance_facts g WHERE g.ward = f.ward AND g.month = f.month)";

  private static final String INSERT =
      "INSERT INTO surveillance_facts (ward, month, version, recorded_at, facts)"
          + " VALUES (?, ?, ?, ?, ?)";

  List<StoredFacts> versions(WardMonth month) {
    return sql.query(
        VERSIONS,
        statement -> {
          statement.setString(1, month.ward().code());
          statement.setString(2, month.month().toString());
        },
        FactsTable::read);
  }

  SortedMap<WardMonth, StoredFacts> newest(YearMonth start, YearMonth endInclusive) {
    SortedMap<WardMonth, StoredFacts> found = new TreeMap<>();
    sql.query(
            NEWEST,
            statement -> {
              statement.setString(1, start.toString());
              statement.setString(2, endInclusive.toString());
            },
            FactsTable::read)
        .forEach(facts -> found.put(facts.month(), facts));
    return found;
  }

  /** Adds versions; whoever added one of them first has won, and the transaction is run again. */
  void append(Collection<StoredFacts> facts) {
    sql.batch(INSERT, facts, FactsTable::bind);
  }

  private static void bind(PreparedStatement statement, StoredFacts facts) throws SQLException {
    statement.setString(1, facts.month().ward().code());
    statement.setString(2, facts.month().month().toString());
    statement.setInt(3, facts.version());
    statement.setLong(4, facts.recordedAt().toEpochMilli());
    statement.setString(5, facts.canonical());
  }

  private static StoredFacts read(ResultSet row) throws SQLException {
    return new StoredFacts(
        new WardMonth(new Ward(row.getString(1)), YearMonth.parse(row.getString(2))),
        row.getInt(3),
        Instant.ofEpochMilli(row.getLong(4)),
        row.getString(5));
  }
}
