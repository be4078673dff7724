package indwell.adapter.store.jdbc;

import indwell.domain.time.Span;
import indwell.domain.timeline.CountedTime;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Rewrites the spans of patients, of all of them in few statements. Most events move nobody, so
 * what is the same is left alone. What the tables hold is not read for that: whoever holds a
 * patient knows the events until now, and with them what was made of them.
 */
final class PatientSpans {
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

  /**
   * What is known of a patient.
   *
   * @param before what the tables hold; empty when nobody knows
   */
  record Indexed(Optional<PatientIndex> before, PatientIndex now) {}

  /** A span at its place among those of its patient. */
  private record Placed<S>(String patientId, int position, S span) {}

  private final List<Step> forgotten = new ArrayList<>();
  private final List<Insert.Rows<?>> added;

  PatientSpans(Dialect dialect, Map<String, Indexed> indexes) {
    this.added =
        List.of(
            ADD_WARD.rows(changed(dialect, indexes, PatientIndex::wards, "ward_span")),
            ADD_CATHETER.rows(changed(dialect, indexes, PatientIndex::catheters, "catheter_span")),
            ADD_COUNTED.rows(changed(dialect, indexes, PatientSpans::counted, "counted_time")));
  }

  /** Takes away what is no longer so. */
  List<Step> forgotten() {
    return forgotten;
  }

  /** Spans that are to be added in the place of those that were taken away. */
  List<Insert.Rows<?>> added() {
    return added;
  }

  private static List<CountedTime> counted(PatientIndex index) {
    return index.counted().stream().map(SpanTime::up).toList();
  }

  /** Forgets what is no longer so; gives what is so instead. */
  private <S> List<Placed<S>> changed(
      Dialect dialect,
      Map<String, Indexed> indexes,
      Function<PatientIndex, List<S>> spans,
      String table) {
    List<Placed<S>> changed = new ArrayList<>();
    List<String> patients = new ArrayList<>();
    indexes.forEach(
        (id, indexed) -> {
          List<S> now = spans.apply(indexed.now());
          Optional<List<S>> before = indexed.before().map(spans);
          if (!before.equals(Optional.of(now))) {
            if (!before.equals(Optional.of(List.of()))) {
              patients.add(id);
            }
            for (int i = 0; i < now.size(); i++) {
              changed.add(new Placed<>(id, i, now.get(i)));
            }
          }
        });
    forgotten.add(Step.deletion(dialect, table, "patient_id", patients));
    return changed;
  }

  /** The part with a catheter; empty, at the start, where there is none. */
  private static Span part(CountedTime time) {
    Instant start = time.span().start();
    return time.withCatheter().orElse(Span.between(start, start));
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
