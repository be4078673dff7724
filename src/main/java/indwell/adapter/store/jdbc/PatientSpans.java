package indwell.adapter.store.jdbc;

import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import indwell.domain.timeline.CountedTime;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
      "SELECT patient_id, ward, start_at, end_at, with_start, with_end FROM counted_time WHERE %s"
          + " ORDER BY patient_id, position";

  private static final Insert<Placed<WardSpan>> ADD_WARD =
      PatientSpans.<WardSpan>at("ward_span", WardSpan::start, WardSpan::endExclusive)
          .text("ward", placed -> placed.span().ward().code())
          .number("inpatient", placed -> placed.span().inpatient() ? 1 : 0)
          .number("doubtful", placed -> placed.span().doubtful() ? 1 : 0);

  private static final Insert<Placed<CatheterSpan>> ADD_CATHETER =
      at("catheter_span", CatheterSpan::start, CatheterSpan::endExclusive);

  private static final Insert<Placed<CountedTime>> ADD_COUNTED =
      PatientSpans.<CountedTime>at(
              "counted_time",
              time -> time.span().start(),
              time -> time.span().end().orElse(Instant.MAX))
          .text("ward", placed -> placed.span().ward().code())
          .number("with_start", placed -> part(placed.span()).startMillis())
          .number("with_end", placed -> part(placed.span()).endMillis());

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
    sql.insert(ADD_WARD, changed(wards, known, "ward_span"));
  }

  private void replaceCatheters(Map<String, List<CatheterSpan>> catheters) {
    Map<String, List<CatheterSpan>> known =
        known(CATHETERS, catheters.keySet(), PatientSpans::catheterSpan);
    sql.insert(ADD_CATHETER, changed(catheters, known, "catheter_span"));
  }

  private void replaceCounted(Map<String, List<CountedTime>> counted) {
    Map<String, List<CountedTime>> known =
        known(COUNTED, counted.keySet(), PatientSpans::countedTime);
    sql.insert(ADD_COUNTED, changed(counted, known, "counted_time"));
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
      Map<String, List<S>> wanted, Map<String, List<S>> known, String table) {
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
    sql.delete(table + " WHERE patient_id", forgotten);
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
    Span part = SpanTime.span(row.getLong(5), row.getLong(6));
    return new CountedTime(
        new Ward(row.getString(2)),
        SpanTime.span(row.getLong(3), row.getLong(4)),
        part.isEmpty() ? Optional.empty() : Optional.of(part));
  }

  /** The part with a catheter; empty, at the start, where there is none. */
  private static Span part(CountedTime time) {
    Instant start = time.span().start();
    return time.withCatheter().orElse(Span.between(start, start));
  }

  private static CatheterSpan catheterSpan(ResultSet row) throws SQLException {
    return new CatheterSpan(
        SpanTime.fromColumn(row.getLong(2)), SpanTime.fromColumn(row.getLong(3)));
  }

  private static <S> Insert<Placed<S>> at(
      String table, Function<S, Instant> start, Function<S, Instant> endExclusive) {
    return Insert.<Placed<S>>into(table)
        .text("patient_id", Placed::patientId)
        .number("position", Placed::position)
        .number("start_at", placed -> SpanTime.toColumn(start.apply(placed.span())))
        .number("end_at", placed -> SpanTime.toColumn(endExclusive.apply(placed.span())));
  }
}
