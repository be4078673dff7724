package indwell.web.ward;

import indwell.web.page.FormSeal.Sealed;
import indwell.web.page.Moment;
import indwell.web.page.Why;
import java.util.List;

/**
 * The ward page as it is read, every value a text.
 *
 * @param place the ward that is shown; empty for the house
 * @param wards choices, the whole house first
 * @param counts how many catheters, and how many need which hand
 * @param filter what can be left out
 * @param rows what needs a hand first
 * @param hidden catheters that the filter leaves out
 * @param recording who records from this page
 * @param told what was just recorded from it; empty for nothing
 * @param fhir where programs find the same
 */
public record BoardView(
    String place,
    List<Choice> wards,
    Counts counts,
    Filter filter,
    List<Row> rows,
    int hidden,
    Recording recording,
    List<Told> told,
    List<Link> fhir) {

  /**
   * A link to one ward, or to all.
   *
   * @param address of the page
   * @param chosen whether it is shown now
   */
  public record Choice(String name, String address, boolean chosen) {}

  /** A link. */
  public record Link(String name, String address) {}

  /**
   * How many there are.
   *
   * @param inPlace catheters in place
   * @param left catheters of patients who have left, with no removal on record
   * @param need rows with something in force
   * @param hands of each kind of hand the rows that need it
   */
  public record Counts(int inPlace, int left, int need, List<Hand> hands) {}

  /**
   * A kind of hand.
   *
   * @param kind for the style: {@code patient}, {@code removal}, {@code care}, {@code record}
   */
  public record Hand(String kind, String words, int rows) {}

  /**
   * The filter.
   *
   * @param action where its form is sent
   * @param within hours that are looked ahead
   * @param all address of the page that leaves nothing out
   * @param active whether something may be left out
   */
  public record Filter(
      String action,
      List<Option> flags,
      boolean overdueOnly,
      int within,
      String all,
      boolean active) {}

  /** One thing to choose. */
  public record Option(String value, String words, boolean chosen) {}

  /**
   * One catheter.
   *
   * @param anchor of the row within the page
   * @param device id of the FHIR Device
   * @param patient as the ward names them
   * @param patientAddress page of the patient
   * @param ward where they are
   * @param day calendar days in place, the insertion day being day 1
   * @param counted how the day was counted, and from which event
   * @param since when it was put in
   * @param insertionAddress record of the insertion
   * @param kind route and size
   * @param reason why it is in
   * @param left whether the patient has left and no removal is on record
   * @param due what is in force, by kind of hand
   * @param coming what will be in force if nothing is done
   * @param entry forms of the row; empty where nothing can be recorded
   */
  public record Row(
      String anchor,
      String device,
      String patient,
      String patientAddress,
      String ward,
      int day,
      String counted,
      Moment since,
      String insertionAddress,
      String kind,
      String reason,
      boolean left,
      List<Due> due,
      List<Due> coming,
      List<Entry> entry) {
    /** The most pressing kind of hand; {@code none} without any. */
    public String hand() {
      return due.isEmpty() ? "none" : due.get(0).hand().kind();
    }
  }

  /**
   * One thing that is or will be due.
   *
   * @param code of the flag
   * @param what the flag says
   * @param since from when
   * @param length how long that is
   * @param why the rule that says so, its source, and the events that it looked at
   */
  public record Due(Hand hand, String code, String what, Moment since, String length, Why why) {}

  /**
   * The forms of a row.
   *
   * @param patientId id of the FHIR Patient
   * @param catheter the sender's name for it
   * @param indications why it may still be needed
   * @param otherText what was written beside the latest indication
   * @param items what a care check looks at
   */
  public record Entry(
      String action,
      Sealed seal,
      String patientId,
      String catheter,
      List<Option> indications,
      String otherText,
      List<Option> items) {}

  /**
   * Who records.
   *
   * @param name empty when nobody has said
   * @param verified whether anybody vouches for it
   * @param action where the form is sent
   */
  public record Recording(String name, boolean verified, String action, Sealed seal) {}

  /**
   * What was recorded from the page a moment ago.
   *
   * @param takenBack whether it was taken back again
   * @param takeBack form that takes it back; empty once it is
   */
  public record Told(
      String what,
      String patient,
      Moment at,
      String recorder,
      String event,
      int version,
      boolean takenBack,
      List<TakeBack> takeBack) {}

  /** The form that takes an entry back. */
  public record TakeBack(String action, Sealed seal, String event) {}
}
