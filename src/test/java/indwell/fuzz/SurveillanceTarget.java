package indwell.fuzz;

import indwell.domain.event.Ward;
import indwell.domain.surveillance.WardMonth;
import indwell.domain.time.FacilityCalendar;
import indwell.intake.CandidateBodies;
import indwell.intake.CandidateBody;
import indwell.intake.FactsBodies;
import indwell.intake.FactsBody;
import indwell.intake.FactsTableReader;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;

/** Bodies below {@code /surveillance}: facts as an object, an array and a table; questions. */
final class SurveillanceTarget implements Target {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  private static final LocalDate TODAY = LocalDate.parse("2026-03-10");
  private static final FacilityCalendar CALENDAR = new FacilityCalendar(ZoneId.of("Europe/Berlin"));
  private static final WardMonth PLACE = new WardMonth(new Ward("A-1"), YearMonth.parse("2026-02"));

  @Override
  public void take(byte[] input) {
    look(FactsBodies.object(input, PLACE, TODAY));
    look(FactsBodies.array(input, TODAY));
    look(FactsTableReader.read(input, TODAY));
    if (CandidateBodies.read(input, NOW, CALENDAR) instanceof CandidateBody.Rejected rejected) {
      Oracle.refused(rejected.status(), rejected.issues());
    }
  }

  private static void look(FactsBody body) {
    if (body instanceof FactsBody.Rejected rejected) {
      Oracle.refused(rejected.status(), rejected.issues());
    }
  }
}
