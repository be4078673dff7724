package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * Rewrites the spans of patients, of all of them in few statements. Most events move nobody, so
 * what is the same is left alone.
 */
record PatientSpans(Sql sql) {
  private static final String WARDS =
      "SELECT patient_id, ward, inpatient, start_at, end_at FROM ward_span WHERE %s"
          + " ORDER BY patient_id, position";

  private static final String CATHETERS =
      "SELECT patient_id, start_at, end_at FROM catheter_span WHERE %s"
          + " ORDER BY patient_id, position";

  private static final String FORGET_WARDS = "DELETE FROM ward_span WHERE patient_id = ?";
  private static final String FORGET_CATHETERS = "DELETE FROM catheter_span WHERE patient_id = ?";

  private static final String ADD_WARD =
      "INSERT INTO ward_span (patient_id, position, start_at, end_at, ward, inpatient)"
          + " VALUES (?, ?, ?, ?, ?, ?)";

  private static final String ADD_CATHETER =
      "INSERT INTO catheter_span (patient_id, position, start_at, end_at) VALUES (?, ?, ?, ?)";

  /** A span at its place among those of its patient. */
  private record Placed<S>(String patientId, int position, S span) {}

  void replace(Map<String, PatientIndex> indexes) {
    Map<String, List<WardSpan>> wards = new TreeMap<>();
    Map<String, List<CatheterSpan>> catheters = new TreeMap<>();
    indexes.forEach(
        (id, index) -> {
          wards.put(id, index.wards());
          catheters.put(id, index.catheters());
        });
    List<Placed<WardSpan>> movedWards =
        changed(wards, known(WARDS, wards.keySet(), PatientSpans::wardSpan), FORGET_WARDS);
    sql.batch(ADD_WARD, movedWards, PatientSpans::bindWard);
    List<Placed<CatheterSpan>> movedCatheters =
        changed(
            catheters,
            known(CATHETERS, catheters.keySet(), PatientSpans::catheterSpan),
            FORGET_CATHETERS);
    sql.batch(
        ADD_CATHETER,
        movedCatheters,
        (statement, s) -> bind(statement, s, s.span().start(), s.span().endExclusive()));
  }

  private <S> Map<String, List<S>> known(
      String select, Collection<String> patientIds, Sql.Row<S> span) {
    Dialect dialect = sql.dialect();
    Map<String, List<S>> known = new HashMap<>();
    sql.query(
            select.formatted(dialect.in("patient_id")),
            statement -> dialect.bindList(statement, 1, patientIds),
            row -> Map.entry(row.getString(1), span.read(row)))
        .forEach(
            one ->
                known.computeIfAbsent(one.getKey(), id -> new ArrayList<>()).add(one.getValue()));
    return known;
  }

  /** Forgets what is no longer so; gives what is so instead. */
  private <S> List<Placed<S>> changed(
      Map<String, List<S>> wanted, Map<String, List<S>> known, String forget) {
    List<Placed<S>> changed = new ArrayList<>();
    List<String> forgotten = new ArrayList<>();
    wanted.forEach(
        (id, spans) -> {
          List<S> before = known.getOrDefault(id, List.of());
          if (!before.equals(spans)) {
            if (!before.isEmpty()) {
              forgotten.add(id);
            }
            for (int i = 0; i < spans.size(); i++) {
              changed.add(new Placed<>(id, i, spans.get(i)));
            }
          }
        });
    sql.batch(forget, forgotten, (statement, id) -> statement.setString(1, id));
    return changed;
  }

  private static WardSpan wardSpan(ResultSet row) throws SQLException {
    return new WardSpan(
        new Ward(row.getString(2)),
        row.getInt(3) == 1,
        SpanTime.fromColumn(row.getLong(4)),
        SpanTime.fromColumn(row.getLong(5)));
  }

  private static CatheterSpan catheterSpan(ResultSet row) throws SQLException {
    return new CatheterSpan(
        SpanTime.fromColumn(row.getLong(2)), SpanTime.fromColumn(row.getLong(3)));
  }

  private static void bindWard(PreparedStatement statement, Placed<WardSpan> placed)
      throws SQLException {
    WardSpan span = placed.span();
    bind(statement, placed, span.start(), span.endExclusive());
    statement.setString(5, span.ward().code());
    statement.setInt(6, span.inpatient() ? 1 : 0);
  }

  private static void bind(PreparedStatement statement, Placed<?> at, Instant start, Instant end)
      throws SQLException {
    statement.setString(1, at.patientId());
    statement.setInt(2, at.position());
    statement.setLong(3, SpanTime.toColumn(start));
    statement.setLong(4, SpanTime.toColumn(end));
  }
}
