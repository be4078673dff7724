package indwell.oracle;

import indwell.oracle.Fact.Deed;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.Tuple;

/**
 * Random histories of a fortnight: patients that run through a plausible stay, and beside them
 * events that contradict everything; corrections, withdrawals and duplicates, in any order of
 * arrival. Times lie on a coarse grid, so that ties, midnights and count times are common.
 */
final class RandomHistories {
  private static final int DAYS = 14;

  /** A zone, and a first date with a change of its clocks, a leap day or a month's end ahead. */
  private record Place(String zone, String firstDate) {}

  private static final List<Place> PLACES =
      List.of(
          new Place("UTC", "2026-05-25"),
          new Place("Europe/Berlin", "2026-03-22"),
          new Place("Europe/Berlin", "2026-10-19"),
          new Place("America/New_York", "2026-03-02"),
          new Place("America/New_York", "2026-10-27"),
          new Place("America/Sao_Paulo", "2018-10-30"), // Clocks went from midnight to 01:00.
          new Place("America/Havana", "2025-10-27"), // Clocks went from 01:00 back to midnight.
          new Place("Australia/Lord_Howe", "2026-03-30"), // Half an hour.
          new Place("Australia/Lord_Howe", "2026-09-28"),
          new Place("Asia/Kathmandu", "2028-02-21"),
          new Place("Pacific/Kiritimati", "2028-02-22"), // +14:00
          new Place("Etc/GMT+12", "2025-12-25"), // -12:00
          new Place("Pacific/Apia", "2011-12-24")); // Had no 30 December.

  private static final List<LocalTime> TIMES =
      List.of(
              "12:00", "00:00", "00:00", "07:00", "07:00", "02:30", "02:00", "23:30", "23:59",
              "18:15")
          .stream()
          .map(LocalTime::parse)
          .toList();

  private static final List<LocalTime> COUNT_TIMES =
      List.of("00:00", "00:00", "07:00", "02:30", "12:00", "23:30").stream()
          .map(LocalTime::parse)
          .toList();

  private static final List<Deed> DEEDS =
      List.of(
          Deed.movement("patient-admitted", "A", true),
          Deed.movement("patient-admitted", "B", true),
          Deed.movement("patient-admitted", "ER", false),
          Deed.movement("patient-transferred", "A", true),
          Deed.movement("patient-transferred", "B", true),
          Deed.movement("patient-transferred", "C", true),
          Deed.movement("patient-transferred", "B", false),
          Deed.movement("patient-transferred", "ER", false),
          Deed.discharge(false),
          Deed.discharge(false),
          Deed.discharge(true),
          Deed.insertion("c1", "urethral", "bag", false),
          Deed.insertion("c1", "urethral", "bag", true),
          Deed.insertion("c2", "urethral", "bag", false),
          Deed.insertion("c2", "urethral", "none", false),
          Deed.insertion("c1", "suprapubic", "bag", false),
          Deed.exchange("c1", "c2", "urethral", "bag"),
          Deed.exchange("c2", "c1", "urethral", "bag"),
          Deed.exchange("c3", "c1", "urethral", "bag"),
          Deed.exchange("c1", "c3", "suprapubic", "bag"),
          Deed.of("catheter-removed", "c1"),
          Deed.of("catheter-removed", "c1"),
          Deed.of("catheter-removed", "c2"),
          Deed.of("catheter-removed", "c3"),
          Deed.of("care-checked", "c1"),
          Deed.of("weight-measured", null));

  /** A step of a plausible stay: what may happen, between two days. */
  private record Step(int fromDay, int toDay, List<Deed> deeds) {}

  private static final List<Step> STAY =
      List.of(
          new Step(0, 2, DEEDS.subList(0, 3)),
          new Step(0, 3, DEEDS.subList(11, 13)),
          new Step(1, 3, DEEDS.subList(3, 7)),
          new Step(3, 8, DEEDS.subList(3, 8)),
          new Step(3, 7, DEEDS.subList(16, 22)),
          new Step(5, 10, DEEDS.subList(11, 17)),
          new Step(6, 13, DEEDS.subList(8, 11)));

  /** A deed at a local time of the n-th day. */
  private record Happening(
      int day, LocalTime time, int plusMillis, String patient, String encounter, Deed deed) {

    Instant at(Place place) {
      ZonedDateTime local =
          LocalDate.parse(place.firstDate())
              .plusDays(day)
              .atTime(time)
              .atZone(ZoneId.of(place.zone()));
      return local.toInstant().plusMillis(plusMillis);
    }
  }

  /** One version of an event: what it says, or that it is taken back. */
  private record Version(Happening happening, boolean withdrawn, boolean sentTwice) {}

  private record Event(String source, List<Version> versions) {}

  private RandomHistories() {}

  static Arbitrary<History> histories() {
    return Combinators.combine(
            Arbitraries.of(PLACES),
            Arbitraries.of(COUNT_TIMES),
            Arbitraries.of(COUNT_TIMES).optional(0.4),
            events(),
            Arbitraries.integers().between(0, 1_000),
            asked().list().ofMinSize(1).ofMaxSize(3))
        .as(
            (place, countTime, ofWardB, events, order, asked) -> {
              List<Fact> arrivals = arrivals(place, events, order);
              LocalDate first = LocalDate.parse(place.firstDate());
              return new History(
                  ZoneId.of(place.zone()),
                  countTime,
                  ofWardB.map(time -> Map.of("B", time)).orElse(Map.of()),
                  first.minusDays(1),
                  first.plusDays(DAYS + 2),
                  arrivals,
                  questions(place, asked, arrivals));
            });
  }

  private static Arbitrary<List<Event>> events() {
    return Combinators.combine(stay("p1", "E1"), stay("p2", "E1"), chaos().list().ofMaxSize(8))
        .as(
            (one, other, chaos) -> {
              List<Event> all = new ArrayList<>(one);
              all.addAll(other);
              all.addAll(chaos);
              return all;
            });
  }

  /** Steps of a stay; each may be left out, and the whole stay too. */
  private static Arbitrary<List<Event>> stay(String patient, String encounter) {
    List<Arbitrary<List<Event>>> steps = new ArrayList<>();
    for (Step step : STAY) {
      Arbitrary<Happening> happening =
          happening(
              Arbitraries.integers().between(step.fromDay(), step.toDay()),
              Arbitraries.just(patient),
              Arbitraries.just(encounter),
              Arbitraries.of(step.deeds()));
      steps.add(event(happening).list().ofMaxSize(1));
    }
    Arbitrary<List<Event>> whole =
        Combinators.combine(steps).as(lists -> lists.stream().flatMap(List::stream).toList());
    return Arbitraries.frequencyOf(Tuple.of(1, Arbitraries.just(List.of())), Tuple.of(3, whole));
  }

  private static Arbitrary<Event> chaos() {
    return event(anything());
  }

  private static Arbitrary<Happening> anything() {
    return happening(
        Arbitraries.integers().between(0, DAYS - 1),
        Arbitraries.of("p1", "p1", "p1", "p2", "p3"),
        Arbitraries.of("E1", "E1", "E2", "E3"),
        Arbitraries.of(DEEDS));
  }

  private static Arbitrary<Happening> happening(
      Arbitrary<Integer> day,
      Arbitrary<String> patient,
      Arbitrary<String> encounter,
      Arbitrary<Deed> deed) {
    return Combinators.combine(
            day,
            Arbitraries.of(TIMES),
            Arbitraries.of(0, 0, 0, 0, 0, 1, -1),
            patient,
            encounter,
            deed)
        .as(Happening::new);
  }

  private static Arbitrary<Event> event(Arbitrary<Happening> first) {
    return Combinators.combine(
            Arbitraries.of("a", "a", "B", "a.b"),
            first,
            Arbitraries.of(false, false, false, false, true),
            corrections())
        .as(
            (source, happening, sentTwice, corrections) -> {
              List<Version> versions = new ArrayList<>();
              versions.add(new Version(happening, false, sentTwice));
              corrections.forEach(change -> versions.add(change.apply(happening)));
              return new Event(source, versions);
            });
  }

  /** What later versions of an event say, given the first. */
  private interface Correction {
    Version apply(Happening first);
  }

  private static Arbitrary<List<Correction>> corrections() {
    Arbitrary<Correction> withdrawn = Arbitraries.just(first -> new Version(first, true, false));
    Arbitrary<Correction> moved =
        Combinators.combine(Arbitraries.integers().between(0, DAYS - 1), Arbitraries.of(TIMES))
            .as(
                (day, time) ->
                    first ->
                        new Version(
                            new Happening(
                                day, time, 0, first.patient(), first.encounter(), first.deed()),
                            false,
                            false));
    Arbitrary<Correction> another =
        anything().map(other -> first -> new Version(other, false, false));
    Arbitrary<Correction> any = Arbitraries.oneOf(List.of(moved, withdrawn, another));
    return Arbitraries.frequencyOf(
        Tuple.of(4, Arbitraries.just(List.of())),
        Tuple.of(1, any.list().ofMinSize(1).ofMaxSize(3)));
  }

  private static List<Fact> arrivals(Place place, List<Event> events, int order) {
    List<Fact> facts = new ArrayList<>();
    for (int i = 0; i < events.size(); i++) {
      Event event = events.get(i);
      int number = 1;
      for (Version version : event.versions()) {
        Happening said = version.happening();
        Fact fact =
            new Fact(
                event.source(),
                "e" + i,
                number,
                version.withdrawn(),
                said.at(place),
                said.patient(),
                said.encounter(),
                said.deed());
        facts.add(fact);
        if (version.sentTwice()) {
          facts.add(fact);
        }
        number += 2;
      }
    }
    if (order > 0) {
      Collections.shuffle(facts, new Random(order));
    }
    return facts;
  }

  private static Arbitrary<Tuple.Tuple3<String, Integer, LocalTime>> asked() {
    return Combinators.combine(
            Arbitraries.of("p1", "p1", "p2", "p3"),
            Arbitraries.integers().between(1, DAYS + 2),
            Arbitraries.of(TIMES))
        .as(Tuple::of);
  }

  /** Only patients that an event names are asked about; the service knows no others. */
  private static List<History.Question> questions(
      Place place, List<Tuple.Tuple3<String, Integer, LocalTime>> asked, List<Fact> facts) {
    ZoneId zone = ZoneId.of(place.zone());
    return asked.stream()
        .filter(one -> facts.stream().anyMatch(fact -> fact.patient().equals(one.get1())))
        .map(
            one ->
                new History.Question(
                    one.get1(),
                    LocalDate.parse(place.firstDate())
                        .plusDays(one.get2())
                        .atTime(one.get3())
                        .atZone(zone)
                        .toInstant()))
        .distinct()
        .toList();
  }
}
