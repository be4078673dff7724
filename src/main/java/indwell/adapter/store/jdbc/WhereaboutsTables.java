package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** Tables {@code ward_span} and {@code catheter_span}. */
record WhereaboutsTables(Sql sql) {
  private static final String WARDS_OF =
      "SELECT ward, inpatient, start_at, end_at FROM ward_span WHERE patient_id = ?"
          + " ORDER BY position";

  private static final String CATHETERS_OF =
      "SELECT start_at, end_at FROM catheter_span WHERE patient_id = ? ORDER BY position";

  private static final String ADD_WARD =
      "INSERT INTO ward_span (patient_id, position, start_at, end_at, ward, inpatient)"
          + " VALUES (?, ?, ?, ?, ?, ?)";

  private static final String ADD_CATHETER =
      "INSERT INTO catheter_span (patient_id, position, start_at, end_at) VALUES (?, ?, ?, ?)";

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

  private record Placed<S>(int position, S span) {}

  /** Most events move nobody, so what is the same is left alone. */
  void replace(String patientId, PatientIndex index) {
    if (!wardsOf(patientId).equals(index.wards())) {
      forget("DELETE FROM ward_span WHERE patient_id = ?", patientId);
      sql.batch(ADD_WARD, placed(index.wards()), (statement, s) -> bind(statement, patientId, s));
    }
    if (!cathetersOf(patientId).equals(index.catheters())) {
      forget("DELETE FROM catheter_span WHERE patient_id = ?", patientId);
      sql.batch(
          ADD_CATHETER,
          placed(index.catheters()),
          (statement, s) ->
              bind(statement, patientId, s.position(), s.span().start(), s.span().endExclusive()));
    }
  }

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

  private List<WardSpan> wardsOf(String patientId) {
    return sql.query(
        WARDS_OF,
        statement -> statement.setString(1, patientId),
        row ->
            new WardSpan(
                new Ward(row.getString(1)),
                row.getInt(2) == 1,
                SpanTime.fromColumn(row.getLong(3)),
                SpanTime.fromColumn(row.getLong(4))));
  }

  private List<CatheterSpan> cathetersOf(String patientId) {
    return sql.query(
        CATHETERS_OF,
        statement -> statement.setString(1, patientId),
        row ->
            new CatheterSpan(
                SpanTime.fromColumn(row.getLong(1)), SpanTime.fromColumn(row.getLong(2))));
  }

  private void forget(String delete, String patientId) {
    sql.batch(delete, List.of(patientId), (statement, id) -> statement.setString(1, id));
  }

  private static <S> List<Placed<S>> placed(List<S> spans) {
    List<Placed<S>> placed = new ArrayList<>();
    for (S span : spans) {
      placed.add(new Placed<>(placed.size(), span));
    }
    return placed;
  }

  private static void bind(PreparedStatement statement, String patientId, Placed<WardSpan> placed)
      throws SQLException {
    WardSpan span = placed.span();
    bind(statement, patientId, placed.position(), span.start(), span.endExclusive());
    statement.setString(5, span.ward().code());
    statement.setInt(6, span.inpatient() ? 1 : 0);
  }

  private static void bind(
      PreparedStatement statement, String patientId, int position, Instant start, Instant end)
      throws SQLException {
    statement.setString(1, patientId);
    statement.setInt(2, position);
    statement.setLong(3, SpanTime.toColumn(start));
    statement.setLong(4, SpanTime.toColumn(end));
  }
}
