package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.docs.RulePage.Row;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.rule.UrineReading;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.CountedTime;
import indwell.domain.timeline.DayCount;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.domain.timeline.WardDayLedger;
import java.io.IOException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Runs every row of docs/rules.md: the page is the test. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RuleRowsTest {
  private static final FacilityCalendar UTC = new FacilityCalendar(ZoneOffset.UTC);

  /** After everything that the page tells. */
  private static final Instant LATER = Instant.parse("2024-12-01T00:00:00Z");

  static Stream<Row> denominator() throws IOException {
    return rows("DEN-");
  }

  static Stream<Row> eligibility() throws IOException {
    return rows("ELI-");
  }

  static Stream<Row> attribution() throws IOException {
    return rows("ATT-");
  }

  static Stream<Row> flags() throws IOException {
    return rows("FLAG-");
  }

  @ParameterizedTest
  @MethodSource("denominator")
  void the_denominator_is_as_the_page_says(Row row) {
    Ward ward = new Ward(row.cells().get(1).split(" ")[0]);
    LocalDate date = date(row.cells().get(1).split(" ")[1]);
    WardDayCount count =
        new WardDayCount(UTC, (any, day) -> LocalTime.MIDNIGHT, List.of(ward), date, date);
    count.add(timeline(row, LATER));
    WardDayLedger ledger =
        new WardDayLedger(UTC, (any, day) -> LocalTime.MIDNIGHT, List.of(ward), date, date);
    CountedTime.of(timeline(row, LATER)).forEach(ledger::take);

    DayCount expected =
        new DayCount(Long.parseLong(row.cells().get(2)), Long.parseLong(row.cells().get(3)));
    assertThat(count.counts().get(ward).get(date)).isEqualTo(expected);
    assertThat(ledger.counts().get(ward).get(date)).isEqualTo(expected);
  }

  @ParameterizedTest
  @MethodSource("eligibility")
  void the_day_and_its_eligibility_are_as_the_page_says(Row row) {
    Optional<CatheterDay> day = day(row);

    String number =
        day.flatMap(CatheterDay::number)
            .map(found -> Integer.toString(found.value()))
            .orElse("none");
    String eligible = day.filter(CatheterDay::eligible).map(found -> "yes").orElse("no");
    assertThat(List.of(number, eligible)).isEqualTo(row.cells().subList(2, 4));
  }

  @ParameterizedTest
  @MethodSource("attribution")
  void the_ward_of_attribution_is_as_the_page_says(Row row) {
    String ward = day(row).flatMap(CatheterDay::ward).map(Ward::code).orElse("none");

    assertThat(ward).isEqualTo(row.cells().get(2));
  }

  @ParameterizedTest
  @MethodSource("flags")
  void the_flag_is_as_the_page_says(Row row) {
    String[] moment = row.cells().get(1).split(" by ");
    Instant asked = BedsideSentence.time(moment[0]);
    RuleSettings settings = moment.length == 1 ? RuleSettings.DEFAULTS : reading(moment[1]);
    Bedside bedside = new Bedside(timeline(row, asked), settings, UTC);

    List<Instant> since =
        AllRules.inForce(bedside, asked).stream()
            .filter(flag -> flag.trace().rule().id().equals(row.rule()))
            .map(FlagSpan::since)
            .distinct()
            .toList();
    String expected = row.cells().get(2);
    assertThat(since)
        .isEqualTo(expected.equals("no") ? List.of() : List.of(BedsideSentence.time(expected)));
  }

  private static RuleSettings reading(String code) {
    RuleSettings defaults = RuleSettings.DEFAULTS;
    return new RuleSettings(
        defaults.reviewDueBy(),
        defaults.securementGoodDays(),
        defaults.outputChartingWithin(),
        defaults.careCheckWithin(),
        defaults.postoperativeWithin(),
        defaults.balloonToleranceMl(),
        UrineReading.ofCode(code).orElseThrow());
  }

  private static Stream<Row> rows(String prefix) throws IOException {
    return RulePage.rows().stream().filter(row -> row.rule().startsWith(prefix));
  }

  private static Timeline timeline(Row row, Instant asOf) {
    List<BedsideEvent> events = BedsideSentence.events(row.cells().get(0));
    return Timeline.asOf(events, asOf);
  }

  private static Optional<CatheterDay> day(Row row) {
    Timeline timeline = timeline(row, LATER);
    LocalDate date = date(row.cells().get(1));
    return new EligibilityCount(timeline, UTC)
        .days(timeline.stays().get(0), LATER).stream()
            .filter(day -> day.date().equals(date))
            .findFirst();
  }

  private static LocalDate date(String monthDay) {
    return LocalDate.parse("2024-" + monthDay);
  }
}
