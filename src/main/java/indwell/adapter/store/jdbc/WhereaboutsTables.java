package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Set;

/** Questions about the tables {@code ward_span}, {@code catheter_span} and {@code counted_time}. */
record WhereaboutsTables(Sql sql) {
  private static final int WARDS_AT_ONCE = 20;

  /** Jumps from ward to ward along the index instead of reading every span. */
  private static final String INPATIENT_WARDS =
      "WITH RECURSIVE found (ward) AS ("
          + "SELECT min(ward) FROM ward_span WHERE inpatient = 1"
          + " UNION ALL SELECT (SELECT min(s.ward) FROM ward_span s"
          + " WHERE s.inpatient = 1 AND s.ward > found.ward)"
          + " FROM found WHERE found.ward IS NOT NULL)"
          + " SELECT ward FROM found WHERE ward IS NOT NULL";

  private static final String KNOWN = "SELECT 1 FROM ward_span WHERE ward = ? LIMIT 1";

  private static final String IN_ANY_WARD =
      "SELECT DISTINCT patient_id FROM ward_span WHERE start_at < ? AND end_at >= ?";

  private static final String WITH_CATHETER =
      "SELECT DISTINCT patient_id FROM catheter_span WHERE start_at <= ? AND end_at > ?";

  private static final String EVER_IN =
      " AND EXISTS (SELECT 1 FROM ward_span w"
          + " WHERE w.patient_id = catheter_span.patient_id AND w.ward = ?)";

  /**
   * The index is walked once for each ward, whatever the database knows of its tables, and a row is
   * all times of a ward: a row a time would take twice as long to read.
   */
  private static final String COUNTED =
      "SELECT listed.value, (SELECT %s FROM counted_time c"
          + " WHERE c.ward = listed.value AND c.start_at < ? AND c.end_at > ?) FROM %s";

  /** In the order in which they are read. */
  private static final List<String> ENDS =
      List.of("c.start_at", "c.end_at", "c.with_start", "c.with_end");

  private static final String VERSION = "SELECT version FROM whereabouts_index WHERE id = 1";
  private static final String SET_VERSION = "UPDATE whereabouts_index SET version = ? WHERE id = 1";

  Set<Ward> inpatientWards() {
    return Set.copyOf(
        sql.query(INPATIENT_WARDS, statement -> {}, row -> new Ward(row.getString(1))));
  }

  boolean knows(Ward ward) {
    return !sql.query(KNOWN, statement -> statement.setString(1, ward.code()), row -> true)
        .isEmpty();
  }

  Set<String> patientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return patients(IN_ANY_WARD, wards, start, endExclusive);
  }

  Set<String> doubtfulPatientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return patients(IN_ANY_WARD + " AND doubtful = 1", wards, start, endExclusive);
  }

  private Set<String> patients(String text, Set<Ward> wards, Instant start, Instant endExclusive) {
    return Set.copyOf(
        sql.query(
            inWards(text, wards),
            statement -> bind(statement, wards, start, endExclusive),
            row -> row.getString(1)));
  }

  void countedTimes(Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times) {
    Dialect dialect = sql.dialect();
    sql.forEach(
        COUNTED.formatted(dialect.numbers(ENDS), dialect.list("listed")),
        WARDS_AT_ONCE,
        statement -> {
          dialect.expectNumbers(statement);
          bindAll(statement, wards, start, endExclusive);
        },
        row -> give(new Ward(row.getString(1)), dialect.readNumbers(row, 2), times));
  }

  private static void give(Ward ward, long[] ends, CountedTimes times) {
    int each = ends.length / ENDS.size();
    times.take(ward, false, part(ends, 0, each), part(ends, 1, each));
    times.take(ward, true, part(ends, 2, each), part(ends, 3, each));
  }

  private static long[] part(long[] ends, int number, int each) {
    return Arrays.copyOfRange(ends, number * each, (number + 1) * each);
  }

  int version() {
    return sql.query(VERSION, statement -> {}, row -> row.getInt(1)).get(0);
  }

  void setVersion(int version) {
    sql.batch(SET_VERSION, List.of(version), (statement, number) -> statement.setInt(1, number));
  }

  private String inWards(String text, Set<Ward> wards) {
    return wards.isEmpty() ? text : text + " AND " + sql.dialect().in("ward");
  }

  private void bind(
      PreparedStatement statement, Set<Ward> wards, Instant start, Instant endExclusive)
      throws SQLException {
    if (wards.isEmpty()) {
      bindTime(statement, start, endExclusive);
    } else {
      bindAll(statement, wards, start, endExclusive);
    }
  }

  private void bindAll(
      PreparedStatement statement, Set<Ward> wards, Instant start, Instant endExclusive)
      throws SQLException {
    bindTime(statement, start, endExclusive);
    sql.dialect().bindList(statement, 3, wards.stream().map(Ward::code).toList());
  }

  private static void bindTime(PreparedStatement statement, Instant start, Instant endExclusive)
      throws SQLException {
    statement.setLong(1, SpanTime.toColumn(endExclusive));
    statement.setLong(2, SpanTime.toColumn(start));
  }

  Set<String> patientsWithCatheter(Instant at, Ward ever) {
    return Set.copyOf(
        sql.query(
            WITH_CATHETER + EVER_IN,
            statement -> {
              statement.setLong(1, SpanTime.toColumn(at));
              statement.setLong(2, SpanTime.toColumn(at));
              statement.setString(3, ever.code());
            },
            row -> row.getString(1)));
  }

  Set<String> patientsWithCatheter(Instant at) {
    return Set.copyOf(
        sql.query(
            WITH_CATHETER,
            statement -> {
              statement.setLong(1, SpanTime.toColumn(at));
              statement.setLong(2, SpanTime.toColumn(at));
            },
            row -> row.getString(1)));
  }
}
