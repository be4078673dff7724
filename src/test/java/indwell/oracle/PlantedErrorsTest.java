package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Stream;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * The comparison can fail: an error planted in the SQL, one sentence of the contract at a time, is
 * seen in the histories that the property draws.
 */
class PlantedErrorsTest {

  /** A sentence of the contract broken: that text of the scripts, and what stands there instead. */
  private record Plant(String wrong, String text, String instead) {
    @Override
    public String toString() {
      return wrong;
    }

    String in(String script) {
      return script.replace(text, instead);
    }
  }

  private static final List<Plant> PLANTS =
      List.of(
          plant("a removal at the count time counts", "c.moment < p.to_at", "c.moment <= p.to_at"),
          plant(
              "an insertion at the count time does not count",
              "p.from_at <= c.moment",
              "p.from_at < c.moment"),
          plant(
              "an admission at the count time does not count",
              "w.from_at <= c.moment",
              "w.from_at < c.moment"),
          plant(
              "one who moved away at the count time is still there",
              "c.moment < w.to_at",
              "c.moment <= w.to_at"),
          plant("outpatients are counted", "AND w.inpatient\n", "\n"),
          plant(
              "wards have no count time of their own",
              "coalesce(own.count_time, f.count_time)",
              "f.count_time"),
          plant("a suprapubic catheter counts", "route = 'urethral' AND", ""),
          plant("a catheter without a bag counts", "AND drainage = 'bag'", ""),
          plant("the first version stands", "ORDER BY version DESC", "ORDER BY version"),
          plant("what was withdrawn stands", "AND NOT withdrawn", ""),
          plant(
              "at one instant the greater source comes first",
              "e.source, e.event_id)",
              "e.source DESC, e.event_id)"),
          plant(
              "at one instant the greater id comes first",
              "e.source, e.event_id)",
              "e.source, e.event_id DESC)"),
          plant(
              "at one instant a removal comes before an insertion",
              "'catheter-removed' THEN 6",
              "'catheter-removed' THEN 2"),
          plant(
              "at one instant a discharge comes first",
              "'patient-discharged' THEN 7",
              "'patient-discharged' THEN 0"),
          plant(
              "at one instant a transfer comes before an admission",
              "'patient-transferred' THEN 2",
              "'patient-transferred' THEN 0"),
          plant(
              "an event exactly at as-of is left out", "e.moment <= r.as_of", "e.moment < r.as_of"),
          plant(
              "what happens after as-of is known",
              "WHERE r.as_of IS NULL OR e.moment <= r.as_of",
              ""),
          plant(
              "dates are those of UTC",
              "c.starts_at <= i.moment AND i.moment < c.ends_at",
              "c.date = make_timestamp(i.moment * 1000)::DATE"),
          plant(
              "a transfer ends other stays as well",
              "WHEN effect = 'arrives' AND type = 'patient-admitted'",
              "WHEN effect = 'arrives'"),
          plant(
              "the admission of another stay ends none",
              "ELSE e.effect = 'arrives' AND e.type = 'patient-admitted'",
              "ELSE FALSE"),
          plant(
              "movements of an ended stay count",
              "WHEN list_contains(w.ended, v.encounter) THEN 'nothing'",
              ""),
          plant(
              "a discharge ends no catheter",
              "WHEN with_catheter THEN 'rests'\n      ELSE 'left'",
              "ELSE 'back'"),
          plant(
              "a catheter that the patient left with ends", "WHEN with_catheter THEN 'rests'", ""),
          plant("a catheter that rests is in place", "WHEN is_resting THEN 'resting'", ""),
          plant("an admission ends no rest", "IN ('put', 'rests', 'back')", "IN ('put', 'rests')"),
          plant(
              "an exchange leaves the old one in place",
              "WHERE type IN ('catheter-removed', 'catheter-exchanged')",
              "WHERE type = 'catheter-removed'"),
          plant(
              "an exchange puts no replacement in place",
              "FROM event WHERE type = 'catheter-exchanged'",
              "FROM event WHERE FALSE"),
          plant(
              "an insertion of one in place replaces it",
              "lag(state, 1, 'out') OVER (PARTITION BY reading_id, catheter ORDER BY n) AS was",
              "CASE WHEN kind = 'put' THEN 'out' ELSE lag(state, 1, 'out') OVER (PARTITION BY reading_id, catheter ORDER BY n) END AS was"),
          plant(
              "of two insertions at one instant the first decides",
              "lead(kind) OVER of_catheter = 'put'",
              "FALSE"),
          plant("of two discharges at one instant the first decides", "n = max(n)", "n = min(n)"),
          plant("day 2 is eligible", "n.number >= 3", "n.number >= 2"),
          plant("day 3 is not eligible", "n.number >= 3", "n.number >= 4"),
          plant("the day after is not eligible", "OR coalesce(before.number >= 3, FALSE)", ""),
          plant("the day after day 2 is eligible", "before.number >= 3", "before.number >= 2"),
          plant("the count starts before the first inpatient date", "AND p.date >= f.date", ""),
          plant(
              "the count never starts anew",
              "PARTITION BY reading_id, island",
              "PARTITION BY reading_id"),
          plant(
              "the count runs from stay to stay",
              "AND (s.end_n IS NULL OR p.from_n < s.end_n) AND (p.to_n IS NULL OR p.to_n > s.start_n)",
              ""),
          plant("the first stay is asked about", "ORDER BY s.start_n DESC", "ORDER BY s.start_n"),
          plant(
              "no day after the discharge",
              "least(d2.date, d3.date + 1)",
              "least(d2.date, d3.date)"),
          plant("the ward is that of the date itself", "THEN yesterday.ward", "THEN today.ward"),
          plant("the ward is the last one of the day before", "arg_min(i.ward", "arg_max(i.ward"),
          plant("the first inpatient date has no ward", "WHEN s.date = f.date THEN today.ward", ""),
          plant("an overruled ward is entered", "AND NOT w.overruled", ""),
          plant(
              "the newest catheter is the longest-standing",
              "min(p.inserted_at)",
              "max(p.inserted_at)"),
          plant("the insertion day is day 0", "(a.date - i.date + 1)", "(a.date - i.date)"));

  /** The readings of docs/proofs.md, the other way round. */
  private static final List<Plant> OTHER_READINGS =
      List.of(
          plant(
              "a discharge from another stay takes the patient away",
              "WHEN w.here IS NULL OR w.here = v.encounter THEN",
              "WHEN TRUE THEN"),
          plant(
              "a discharge while the patient is in no stay changes nothing",
              "WHEN w.here IS NULL OR w.here = v.encounter THEN",
              "WHEN w.here = v.encounter THEN"),
          plant(
              "only an admission ends a rest",
              "WHERE effect IN ('leaves', 'arrives')",
              "WHERE effect = 'leaves' OR effect = 'arrives' AND type = 'patient-admitted'"),
          plant(
              "the insertion of a catheter that rests changes nothing",
              "kind = 'put' AND was <> 'in place' AS put_in",
              "kind = 'put' AND was = 'out' AS put_in"),
          plant(
              "a date is told present by the catheter time within the stay alone",
              "LEFT JOIN present_date p",
              "LEFT JOIN used_date p"),
          plant(
              "one who left at the instant of arriving was never there",
              "coalesce(a.next_at = a.moment, FALSE)",
              "coalesce(least(a.next_at, s.end_at) = a.moment, FALSE)"),
          plant(
              "wards of other stays attribute as well",
              "FROM latest_stay s JOIN ward_time w USING (reading_id, encounter)",
              "FROM latest_stay s JOIN ward_time w USING (reading_id)"));

  private static final int HISTORIES_A_SLICE = 150;
  private static final int SLICES = 8;

  private static Plant plant(String wrong, String text, String instead) {
    return new Plant(wrong, text, instead);
  }

  /** Some histories, and what the service answers to them, asked once they are needed. */
  private static final class Slice {
    private final List<History> histories;
    private List<Answers> service = List.of();

    Slice(List<History> histories) {
      this.histories = histories;
    }

    boolean agreesWith(SqlCounters sql) {
      if (service.isEmpty()) {
        service = histories.stream().map(ServiceCounters::count).toList();
      }
      return sql.count(histories).equals(service);
    }
  }

  @Provide
  Arbitrary<Drawn> histories() {
    return RandomHistories.histories().list().ofSize(SLICES * HISTORIES_A_SLICE).map(Drawn::new);
  }

  @Property(tries = 1, seed = "20261125", edgeCases = EdgeCasesMode.NONE)
  void every_error_planted_in_the_sql_is_seen_and_without_one_nothing_is(
      @ForAll("histories") Drawn drawn) {
    List<Slice> slices = new ArrayList<>(List.of(new Slice(TwoDischarges.histories())));
    slices.addAll(slices(drawn.histories()));
    try (SqlCounters sql = new SqlCounters()) {
      assertThat(slices.get(0).agreesWith(sql)).isTrue();
      assertThat(slices.get(1).agreesWith(sql)).isTrue();
    }
    assertThat(Stream.concat(PLANTS.stream(), OTHER_READINGS.stream()))
        .allMatch(plant -> seen(plant, slices));
  }

  private static List<Slice> slices(List<History> histories) {
    List<Slice> slices = new ArrayList<>();
    for (int from = 0; from < histories.size(); from += HISTORIES_A_SLICE) {
      slices.add(new Slice(histories.subList(from, from + HISTORIES_A_SLICE)));
    }
    return slices;
  }

  private static boolean seen(Plant plant, List<Slice> slices) {
    AtomicBoolean planted = new AtomicBoolean();
    try (SqlCounters sql =
        new SqlCounters(
            script -> {
              String changed = plant.in(script);
              planted.compareAndSet(false, !changed.equals(script));
              return changed;
            })) {
      assertThat(planted).as(plant.wrong()).isTrue();
      return slices.stream().anyMatch(slice -> !slice.agreesWith(sql));
    }
  }
}
