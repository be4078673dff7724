package indwell.domain.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.TreeSet;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;

/** The code against the contract written a second time, and against its own order of arrival. */
class OraclePropertiesTest {

  private static final int TRIES = 1500;

  /** A history and the instant that it is asked about. */
  record Asked(Histories.Place place, List<String> lines, String asOf) {

    TimelineSentence patient() {
      return TimelineSentence.in(place.zone(), String.join("\n", lines));
    }

    ZoneId zone() {
      return ZoneId.of(place.zone());
    }

    List<LocalDate> dates() {
      LocalDate first = LocalDate.parse(place.month() + String.format("-%02d", place.firstDay()));
      return first.minusDays(1).datesUntil(first.plusDays(14)).toList();
    }

    @Override
    public String toString() {
      return place.zone() + " as of " + asOf + "\n" + String.join("\n", lines) + "\n";
    }
  }

  @Provide
  Arbitrary<Asked> asked() {
    return Histories.upTo(14)
        .flatMap(
            history ->
                Histories.time(history.get1())
                    .map(asOf -> new Asked(history.get1(), history.get2(), asOf)));
  }

  @Property(tries = TRIES, seed = "20260329", edgeCases = EdgeCasesMode.NONE)
  void any_order_of_arrival_gives_the_same_timeline(
      @ForAll("asked") Asked asked, @ForAll Random random) {
    List<BedsideEvent> events = asked.patient().events();
    List<BedsideEvent> shuffled = new ArrayList<>(events);
    Collections.shuffle(shuffled, random);

    assertThat(Timeline.of(shuffled)).isEqualTo(Timeline.of(events));
  }

  @Property(tries = TRIES, seed = "20261025", edgeCases = EdgeCasesMode.NONE)
  void the_days_of_the_latest_stay_agree(@ForAll("asked") Asked asked) {
    TimelineSentence patient = asked.patient();
    DayOracle oracle = new DayOracle(patient.events(), asked.zone(), patient.instant(asked.asOf()));

    assertThat(patient.days(asked.asOf())).as(asked.toString()).isEqualTo(oracle.days());
  }

  @Property(tries = TRIES, seed = "20260308", edgeCases = EdgeCasesMode.NONE)
  void the_denominator_agrees_at_every_ward_and_date(
      @ForAll("asked") Asked asked, @ForAll("countTimes") String countTime) {
    TimelineSentence patient = asked.patient();
    DayOracle oracle = new DayOracle(patient.events(), asked.zone(), Instant.MAX);
    List<LocalDate> dates = asked.dates();
    for (String ward : List.of("A", "B", "ER")) {
      List<String> expected = new ArrayList<>();
      for (LocalDate date : dates) {
        expected.add(
            date.toString().substring(5)
                + " "
                + oracle.wardDay(ward, date, LocalTime.parse(countTime)));
      }

      assertThat(
              patient.wardDays(
                  ward, countTime, dates.get(0).toString(), dates.get(dates.size() - 1).toString()))
          .as(asked + " at " + countTime)
          .isEqualTo(String.join("\n", expected));
    }
  }

  @Provide
  Arbitrary<String> countTimes() {
    return Arbitraries.of("00:00", "02:30", "06:00", "12:00", "23:30");
  }

  @Property(tries = TRIES, seed = "20281101", edgeCases = EdgeCasesMode.NONE)
  void the_flags_in_force_agree(@ForAll("asked") Asked asked) {
    TimelineSentence patient = asked.patient();
    FlagOracle oracle =
        new FlagOracle(patient.events(), asked.zone(), patient.instant(asked.asOf()));
    TreeSet<String> flags = new TreeSet<>();
    for (FlagSpan span : patient.inForce(asked.asOf())) {
      flags.add(span.code().code() + " " + span.catheter().catheter().value() + " " + span.since());
    }

    assertThat(String.join("\n", flags))
        .as(asked.toString())
        .isEqualTo(String.join("\n", oracle.flags()));
  }

  @Property(tries = 300, seed = "20181104", edgeCases = EdgeCasesMode.NONE)
  void a_flag_is_in_force_exactly_in_its_times(@ForAll("asked") Asked asked) {
    TimelineSentence patient = asked.patient();
    Bedside bedside =
        new Bedside(patient.timeline(), RuleSettings.DEFAULTS, new FacilityCalendar(asked.zone()));
    for (FlagSpan span : AllRules.spans(bedside)) {
      for (LocalDate date : asked.dates()) {
        Instant instant = patient.instant(date + " 12:00");
        boolean atTheLimit = span.onlyAfter() && instant.equals(span.since());
        boolean inItsTimes = span.timesInForce().stream().anyMatch(time -> time.holds(instant));

        assertThat(span.inForceAt(instant))
            .as(span.code() + " at " + instant + " in " + asked)
            .isEqualTo(inItsTimes && !atTheLimit);
      }
    }
  }

  /** The histories must reach what they are made for, or agreement says nothing. */
  @Property(tries = 1, seed = "1")
  void the_histories_raise_every_flag_and_every_remark() {
    TreeSet<String> seen = new TreeSet<>();
    List<Tuple.Tuple2<Histories.Place, List<String>>> histories =
        Histories.upTo(14).list().ofSize(400).sample();
    for (var history : histories) {
      TimelineSentence patient =
          TimelineSentence.in(history.get1().zone(), String.join("\n", history.get2()));
      patient.remarks().lines().forEach(seen::add);
      for (LocalDate date : new Asked(history.get1(), history.get2(), "").dates()) {
        patient.inForce(date + " 20:00").forEach(span -> seen.add(span.code().code()));
      }
    }

    assertThat(seen).hasSize(12 + 12);
  }
}
