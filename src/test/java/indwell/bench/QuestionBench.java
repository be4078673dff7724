package indwell.bench;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.contract.TestPostgres;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.port.ClinicalStore;
import indwell.usecase.Asked;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Overdue;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What a ward asks, of a long history and of a hundredth of it that ends on the same day. */
final class QuestionBench {
  private static final int TRIES = 15;
  private static final Optional<Ward> WARD = Optional.of(new Ward(House.ward(0)));
  private static final Facility FACILITY =
      new Facility(
          new FacilityCalendar(ZoneOffset.UTC),
          LocalTime.MIDNIGHT,
          RuleSettings.DEFAULTS,
          Map.of());

  /** One question, in milliseconds at its fastest, with both histories. */
  private record Times(double deviceDays, double overdue) {}

  List<Row> rows(int episodes) {
    Times shortHistory = times(episodes - Math.max(episodes / 100, 200), episodes);
    Times longHistory = times(0, episodes);
    String against = "the last %,d episodes alone".formatted(Math.max(episodes / 100, 200));
    String what = " of a ward after %,d episodes".formatted(episodes);
    return List.of(
        new Row(
            "$device-days, a month" + what,
            1000 / longHistory.deviceDays(),
            against,
            1000 / shortHistory.deviceDays(),
            "answers/s",
            1 / 1.5),
        new Row(
            "$overdue" + what,
            1000 / longHistory.overdue(),
            against,
            1000 / shortHistory.overdue(),
            "answers/s",
            1 / 1.5));
  }

  private static Times times(int from, int to) {
    String url = TestPostgres.newDatabase();
    try (ClinicalStore store = PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD)) {
      Filling.fill(store, from, to);
      new PlainPostgres(url).run("ANALYZE");
      Instant end = House.begin(to - 1);
      LocalDate today = end.atZone(ZoneOffset.UTC).toLocalDate();
      DeviceDays days = new DeviceDays(store, FACILITY);
      Overdue overdue = new Overdue(store, FACILITY);
      DeviceDays.Question month =
          new DeviceDays.Question(WARD, today.minusDays(30), today.minusDays(1));
      return new Times(
          1000 * Stopwatch.fastest(TRIES, () -> answered(days.count(month, end))),
          1000 * Stopwatch.fastest(TRIES, () -> answered(overdue.at(end, WARD, end))));
    }
  }

  private static void answered(Asked<?> answer) {
    if (!(answer instanceof Asked.Answered)) {
      throw new IllegalStateException("Refused: " + answer);
    }
  }
}
