package indwell.bench;

import indwell.contract.PlainFacility;
import indwell.domain.event.Ward;
import indwell.port.ClinicalStore;
import indwell.usecase.Asked;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Overdue;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a ward asks, of a long history and of a hundredth of it that ends on the same day, and what
 * the house asks of a year.
 */
final class QuestionBench {
  private static final int TRIES = 15;
  private static final Optional<Ward> WARD = Optional.of(new Ward(House.ward(0)));
  private static final Facility FACILITY = PlainFacility.in(ZoneOffset.UTC);

  /** One question, in seconds at its fastest, with both histories. */
  private record Times(double deviceDays, double overdue) {}

  private final int episodes;
  private final Instant end;

  QuestionBench(int episodes) {
    this.episodes = episodes;
    this.end = House.begin(episodes - 1);
  }

  /**
   * The comparisons.
   *
   * @param sample episodes whose rows are held against those of intake
   */
  List<Row> rows(int sample) throws SQLException {
    History history = new History();
    history.requireEqual(sample);
    int part = Math.max(episodes / 100, House.PERIOD);
    Times shortHistory = times(history.write(episodes - part, episodes, History.FACTS));
    long begin = System.nanoTime();
    PlainPostgres plain = history.write(0, episodes, History.FACTS);
    System.out.printf(
        "%,d episodes, %,d events, written in %.0f s%n",
        episodes, plain.count("event"), (System.nanoTime() - begin) / 1e9);
    Times longHistory = times(plain);
    String what = " of a ward after %,d episodes".formatted(episodes);
    String against = "the last %,d episodes alone".formatted(part);
    List<Row> rows = new ArrayList<>();
    rows.add(
        row(
            "$device-days, a month" + what,
            longHistory.deviceDays,
            against,
            shortHistory.deviceDays));
    rows.add(row("$overdue" + what, longHistory.overdue, against, shortHistory.overdue));
    try (ClinicalStore store = History.open(plain)) {
      rows.addAll(
          new YearOfTheHouse(plain, FACILITY, end)
              .rows(store, end, "%,d episodes stored".formatted(episodes)));
    }
    return rows;
  }

  private static Row row(String what, double ours, String against, double reference) {
    return new Row(what, 1 / ours, against, 1 / reference, "answers/s", 1 / 1.5);
  }

  private Times times(PlainPostgres plain) {
    try (ClinicalStore store = History.open(plain)) {
      LocalDate today = end.atZone(ZoneOffset.UTC).toLocalDate();
      DeviceDays days = new DeviceDays(store, FACILITY);
      Overdue overdue = new Overdue(store, FACILITY);
      DeviceDays.Question month =
          new DeviceDays.Question(WARD, today.minusDays(30), today.minusDays(1));
      return new Times(
          Stopwatch.fastest(TRIES, () -> answered(days.count(month, end))),
          Stopwatch.fastest(TRIES, () -> answered(overdue.at(end, WARD, end))));
    }
  }

  private static void answered(Asked<?> answer) {
    if (!(answer instanceof Asked.Answered)) {
      throw new IllegalStateException("Refused: " + answer);
    }
  }
}
