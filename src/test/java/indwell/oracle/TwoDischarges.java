package indwell.oracle;

import indwell.oracle.Fact.Deed;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;

/**
 * Two discharges of one stay at one instant that disagree on the catheter, then a stay that shows
 * which of them decided. Drawn histories hardly ever hold one.
 */
final class TwoDischarges {
  private TwoDischarges() {}

  /** Once with each of the two as the last one. */
  static List<History> histories() {
    return List.of(history(true), history(false));
  }

  private static History history(boolean lastIsWithCatheter) {
    return new History(
        ZoneOffset.UTC,
        LocalTime.MIDNIGHT,
        Map.of(),
        LocalDate.of(2026, 3, 1),
        LocalDate.of(2026, 3, 10),
        List.of(
            fact("1", "2026-03-02T09:00:00Z", "E1", Deed.movement("patient-admitted", "A", true)),
            fact("2", "2026-03-02T10:00:00Z", "E1", Deed.insertion("c1", "urethral", "bag", false)),
            fact("3", "2026-03-04T10:00:00Z", "E1", Deed.discharge(!lastIsWithCatheter)),
            fact("4", "2026-03-04T10:00:00Z", "E1", Deed.discharge(lastIsWithCatheter)),
            fact("5", "2026-03-06T09:00:00Z", "E2", Deed.movement("patient-admitted", "A", true))),
        List.of(new History.Question("p1", Instant.parse("2026-03-09T12:00:00Z"))));
  }

  private static Fact fact(String eventId, String at, String encounter, Deed deed) {
    return new Fact("ward", eventId, 1, false, Instant.parse(at), "p1", encounter, deed);
  }
}
