package indwell.domain.oracle;

import java.time.YearMonth;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.Tuple;

/**
 * Random histories in the notation of {@link indwell.domain.TimelineSentence}: few stays, wards and
 * catheters on a coarse grid of times, so that contradictions, ties and midnights are common.
 */
final class Histories {

  /** A zone and the first date of its histories, close to a change of its clocks. */
  record Place(String zone, String month, int firstDay) {}

  static final List<Place> PLACES =
      List.of(
          new Place("UTC", "2026-06", 1),
          new Place("Europe/Berlin", "2026-03", 26),
          new Place("Europe/Berlin", "2026-10", 20),
          new Place("America/New_York", "2026-03", 5),
          new Place("Australia/Lord_Howe", "2026-04", 2),
          new Place("America/Sao_Paulo", "2018-11", 1),
          new Place("Asia/Kathmandu", "2028-02", 22),
          new Place("Pacific/Kiritimati", "2026-06", 1));

  private static final List<String> TIMES =
      List.of("00:00", "02:30", "06:00", "12:00", "12:00", "18:00", "23:30");

  private static final List<String> EVENTS =
      List.of(
          "admitted A stay=%s",
          "admitted A stay=%s",
          "admitted B stay=%s",
          "admitted ER outpatient stay=%s",
          "transferred A stay=%s",
          "transferred B stay=%s",
          "transferred B outpatient stay=%s",
          "discharged stay=%s",
          "discharged stay=%s",
          "discharged with-catheter stay=%s",
          "inserted c1 stay=%s",
          "inserted c1 stay=%s dwell=2 label=10 filled=9.4",
          "inserted c1 stay=%s for=perioperative",
          "inserted c2 stay=%s for=urine-sampling dwell=3",
          "inserted c2 no-bag stay=%s label=10 filled=9.5",
          "inserted c3 suprapubic stay=%s steps=lubricant:not-done",
          "exchanged c1 c2 stay=%s",
          "exchanged c2 c1 stay=%s for=perioperative",
          "exchanged c1 c3 suprapubic",
          "removed c1",
          "removed c1",
          "removed c2",
          "removed c3",
          "reviewed c1 still-needed",
          "reviewed c1 not-needed",
          "reviewed c1 still-needed for=perioperative",
          "reviewed c2 still-needed for=incontinence-care",
          "reviewed c2 not-needed",
          "securement c1",
          "checked c1",
          "checked c2",
          "specimen c1",
          "urine 0 hours=24",
          "urine 419 hours=12",
          "urine 210 hours=6",
          "urine 209 hours=6",
          "urine 504 hours=24",
          "urine 100 hours=8 catheter=c1",
          "weighed 70",
          "weighed 35");

  private Histories() {}

  /** Of up to so many events, over twelve days. */
  static Arbitrary<Tuple.Tuple2<Place, List<String>>> upTo(int events) {
    return Arbitraries.of(PLACES)
        .flatMap(
            place ->
                event(place)
                    .list()
                    .ofMinSize(1)
                    .ofMaxSize(events)
                    .map(lines -> Tuple.of(place, lines)));
  }

  private static Arbitrary<String> event(Place place) {
    return Combinators.combine(
            time(place),
            Arbitraries.of(EVENTS),
            Arbitraries.of("E1", "E1", "E1", "E2", "E3"),
            Arbitraries.of("a", "b"))
        .as(
            (time, event, stay, source) ->
                time + " " + event.formatted(stay) + " source=" + source);
  }

  /** A time of the grid, as the notation writes it. */
  static Arbitrary<String> time(Place place) {
    int last = YearMonth.parse(place.month()).lengthOfMonth();
    return Combinators.combine(
            Arbitraries.integers().between(place.firstDay(), Math.min(place.firstDay() + 11, last)),
            Arbitraries.of(TIMES))
        .as((day, time) -> String.format("%s-%02d %s", place.month(), day, time));
  }
}
