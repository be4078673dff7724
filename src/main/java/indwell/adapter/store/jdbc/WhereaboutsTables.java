package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import java.time.Instant;
import java.util.List;
import java.util.Set;

/** Questions about the tables {@code ward_span} and {@code catheter_span}. */
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

  Set<Ward> inpatientWards() {
    return Set.copyOf(
        sql.query(INPATIENT_WARDS, statement -> {}, row -> new Ward(row.getString(1))));
  }

  boolean knows(Ward ward) {
    return !sql.query(KNOWN, statement -> statement.setString(1, ward.code()), row -> true)
        .isEmpty();
  }

  Set<String> patientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    Dialect dialect = sql.dialect();
    List<String> codes = wards.stream().map(Ward::code).toList();
    String text = codes.isEmpty() ? IN_ANY_WARD : IN_ANY_WARD + " AND " + dialect.in("ward");
    return Set.copyOf(
        sql.query(
            text,
            statement -> {
              statement.setLong(1, SpanTime.toColumn(endExclusive));
              statement.setLong(2, SpanTime.toColumn(start));
              if (!codes.isEmpty()) {
                dialect.bindList(statement, 3, codes);
              }
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
