package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTime;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Consumer;

/** Questions about the tables {@code ward_span}, {@code catheter_span} and {@code counted_time}. */
record WhereaboutsTables(Sql sql) {
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

  private static final String COUNTED =
      "SELECT ward, with_catheter, start_at, end_at FROM counted_time"
          + " WHERE start_at < ? AND end_at > ?";

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

  void countedTimes(
      Set<Ward> wards, Instant start, Instant endExclusive, Consumer<CountedTime> visit) {
    Map<String, Ward> known = new HashMap<>();
    sql.forEach(
        inWards(COUNTED, wards),
        statement -> bind(statement, wards, start, endExclusive),
        row ->
            visit.accept(
                new CountedTime(
                    known.computeIfAbsent(row.getString(1), Ward::new),
                    SpanTime.span(row.getLong(3), row.getLong(4)),
                    row.getInt(2) == 1)));
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
    statement.setLong(1, SpanTime.toColumn(endExclusive));
    statement.setLong(2, SpanTime.toColumn(start));
    if (!wards.isEmpty()) {
      sql.dialect().bindList(statement, 3, wards.stream().map(Ward::code).toList());
    }
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
