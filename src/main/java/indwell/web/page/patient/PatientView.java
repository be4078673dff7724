package indwell.web.page.patient;

import indwell.web.page.HistoryView;
import indwell.web.page.Moment;
import indwell.web.page.Why;
import io.quarkus.qute.RawString;
import java.util.List;

/**
 * The stay of a patient as it is read.
 *
 * @param patient as the ward names them
 * @param stays choices, when there is more than one
 * @param place where the patient is now; empty outside any stay
 * @param from start of the stay
 * @param until its end; empty while it lasts
 * @param since insertion of the longest-standing catheter in place that counts; empty or one
 * @param catheterDay its day; empty or one
 * @param drawing SVG
 * @param drawn the same in a sentence
 * @param flags in force first, then past ones
 * @param days the eligibility count
 * @param lowOutput what a low interval is; empty when none was measured
 * @param againstLimit the heading of the sides that intervals are on
 * @param outputs measured intervals
 * @param events everything on record
 * @param corrections of events
 * @param remarks what is doubtful in the record
 * @param fhir where programs find the same
 */
public record PatientView(
    String patient,
    List<Link> stays,
    String place,
    List<Moment> from,
    List<Moment> until,
    List<Moment> since,
    List<Integer> catheterDay,
    RawString drawing,
    String drawn,
    List<Flag> flags,
    List<Day> days,
    String lowOutput,
    String againstLimit,
    List<Output> outputs,
    List<Event> events,
    List<HistoryView> corrections,
    List<Remark> remarks,
    List<Link> fhir) {

  /** A link; the chosen one is the page itself. */
  public record Link(String name, String address, boolean chosen) {}

  /**
   * A flag that is or was in force.
   *
   * @param id of the FHIR Flag
   * @param until empty while it is in force
   * @param length how long it has been, or was
   */
  public record Flag(
      String id,
      String kind,
      String what,
      String catheter,
      Moment since,
      List<Moment> until,
      String length,
      Why why) {}

  /**
   * A date of the stay.
   *
   * @param number day of the count; empty on a day without
   * @param present whether a catheter that counts was there
   * @param eligible whether an event dated here may be attributed: a candidate, no diagnosis
   * @param ward where an event dated here is attributed; empty for nowhere
   */
  public record Day(
      Moment date, String number, boolean present, boolean eligible, String ward, List<Why> whys) {}

  /**
   * A measured interval.
   *
   * @param observation id of the FHIR Observation of the rate
   * @param rate in mL/kg/h; empty without a weight
   * @param low whether it is low by the reading in force at its end
   * @param side on which side of the limit it is; empty without a weight
   */
  public record Output(
      Moment from,
      Moment to,
      String volumeMl,
      String kg,
      String rate,
      boolean low,
      String side,
      String observation,
      List<Why> why) {}

  /**
   * Something on record.
   *
   * @param says its details in words
   * @param event its source and event id
   */
  public record Event(
      Moment at, String what, String says, String recorder, String event, int version) {}

  /** What is doubtful. */
  public record Remark(String code, String sentence, String events) {}
}
