package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTime;
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
import java.util.function.Function;

/**
 * Rewrites the spans of patients, of all of them in few statements. Most events move nobody, so
 * what is the same is left alone.
 */
record PatientSpans(Sql sql) {
  private static final String WARDS =
      "SELECT patient_id, ward, inpatient, start_at, end_at, doubtful FROM ward_span WHERE %s"
          + " ORDER BY patient_id, position";

  private static final String CATHETERS =
      "SELECT patient_id, start_at, end_at FROM catheter_span WHERE %s"
          + " ORDER BY patient_id, position";

  private static final String COUNTED =
      "SELECT patient_id, ward, with_catheter, start_at, end_at FROM counted_time WHERE %s"
          + " ORDER BY patient_id, position";

  private static final String FORGET_WARDS = "DELETE FROM ward_span WHERE patient_id = ?";
  private static final String FORGET_CATHETERS = "DELETE FROM catheter_span WHERE patient_id = ?";

  private static final String FORGET_COUNTED = "DELETE FROM counted_time WHERE patient_id = ?";

  private static final String ADD_WARD =
      "INSERT INTO ward_span (patient_id, position, start_at, end_at, ward, inpatient, doubtful)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?)";

  private static final String ADD_CATHETER =
      "INSERT INTO catheter_span (patient_id, position, start_at, end_at) VALUES (?, ?, ?, ?)";

  private static final String ADD_COUNTED =
      "INSERT INTO counted_time (patient_id, position, start_at, end_at, ward, with_catheter)"
          + " VALUES (?, ?, ?, ?, ?, ?)";

  /** A span at its place among those of its patient. */
  private record Placed<S>(String patientId, int position, S span) {}

  void replace(Map<String, PatientIndex> indexes) {
    replaceWards(each(indexes, PatientIndex::wards));
    replaceCatheters(each(indexes, PatientIndex::catheters));
    replaceCounted(each(indexes, index -> index.counted().stream().map(SpanTime::up).toList()));
  }

  private static <S> Map<String, List<S>> each(
      Map<String, PatientIndex> indexes, Function<PatientIndex, List<S>> spans) {
    Map<String, List<S>> each = new TreeMap<>();
    indexes.forEach((id, index) -> each.put(id, spans.apply(index)));
    return each;
  }

  private void replaceWards(Map<String, List<WardSpan>> wards) {
    Map<String, List<WardSpan>> known = known(WARDS, wards.keySet(), PatientSpans::wardSpan);
    sql.batch(ADD_WARD, changed(wards, known, FORGET_WARDS), PatientSpans::bindWard);
  }

  private void replaceCatheters(Map<String, List<CatheterSpan>> catheters) {
    Map<String, List<CatheterSpan>> known =
        known(CATHETERS, catheters.keySet(), PatientSpans::catheterSpan);
    sql.batch(
        ADD_CATHETER,
        changed(catheters, known, FORGET_CATHETERS),
        (statement, s) -> bind(statement, s, s.span().start(), s.span().endExclusive()));
  }

  private void replaceCounted(Map<String, List<CountedTime>> counted) {
    Map<String, List<CountedTime>> known =
        known(COUNTED, counted.keySet(), PatientSpans::countedTime);
    sql.batch(ADD_COUNTED, changed(counted, known, FORGET_COUNTED), PatientSpans::bindCounted);
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
        SpanTime.fromColumn(row.getLong(5)),
        row.getInt(6) == 1);
  }

  private static CountedTime countedTime(ResultSet row) throws SQLException {
    return new CountedTime(
        new Ward(row.getString(2)),
        SpanTime.span(row.getLong(4), row.getLong(5)),
        row.getInt(3) == 1);
  }

  private static void bindCounted(PreparedStatement statement, Placed<CountedTime> placed)
      throws SQLException {
    CountedTime time = placed.span();
    bind(statement, placed, time.span().start(), time.span().end().orElse(Instant.MAX));
    statement.setString(5, time.ward().code());
    statement.setInt(6, time.withCatheter() ? 1 : 0);
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
    statement.setInt(7, span.doubtful() ? 1 : 0);
  }

  private static void bind(PreparedStatement statement, Placed<?> at, Instant start, Instant end)
      throws SQLException {
    statement.setString(1, at.patientId());
    statement.setInt(2, at.position());
    statement.setLong(3, SpanTime.toColumn(start));
    statement.setLong(4, SpanTime.toColumn(end));
  }
}
