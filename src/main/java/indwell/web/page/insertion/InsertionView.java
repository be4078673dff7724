package indwell.web.page.insertion;

import indwell.web.page.HistoryView;
import indwell.web.page.Moment;
import indwell.web.page.Why;
import java.util.List;

/**
 * The record of an insertion as it is read.
 *
 * @param patient as the ward names them
 * @param catheter the sender's name for it
 * @param kind insertion or exchange
 * @param parts what is stated, in groups
 * @param steps every step, stated or not
 * @param flags what the rules say of the insertion
 * @param history of the event, newest version last
 * @param fhir where programs find the same
 */
public record InsertionView(
    String patient,
    String patientAddress,
    String catheter,
    String kind,
    List<Part> parts,
    List<Step> steps,
    List<Flag> flags,
    HistoryView history,
    String fhir) {

  /** A group of lines. */
  public record Part(String heading, List<Line> lines) {}

  /**
   * One thing that is stated.
   *
   * @param name for programs that read the page; empty for none
   * @param value as a number or text; empty when nobody stated it
   * @param unit empty for none
   * @param at a time instead of a value; empty or one
   */
  public record Line(String what, String name, String value, String unit, List<Moment> at) {
    /** Whether nobody stated it. */
    public boolean notStated() {
      return value.isEmpty() && at.isEmpty();
    }
  }

  /**
   * A step of the insertion.
   *
   * @param result {@code done}, {@code not-done}, {@code not-applicable} or {@code not-stated}
   */
  public record Step(String what, String code, String result, String words) {}

  /** What a rule says. */
  public record Flag(String what, Why why) {}
}
