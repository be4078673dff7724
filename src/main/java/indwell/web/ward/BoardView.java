package indwell.web.ward;

import java.util.List;

/**
 * The ward page as it is read, every value a text.
 *
 * @param computedAt local date and time of the calculation
 * @param zone the zone of all times on the page
 * @param wards choices, the whole house first
 * @param place the ward that is shown; the house when empty
 * @param summary one sentence
 * @param rows what needs a hand first
 */
public record BoardView(
    String computedAt,
    String zone,
    List<Choice> wards,
    String place,
    String summary,
    List<Row> rows) {

  /**
   * A link to one ward, or to all.
   *
   * @param address of the page
   * @param chosen whether it is shown now
   */
  public record Choice(String name, String address, boolean chosen) {}

  /**
   * One catheter.
   *
   * @param patient as the ward names them
   * @param ward where they are
   * @param day how long it is in place, or was
   * @param counted how the day was counted, and from which event
   * @param since when it was put in
   * @param reason why it is in
   * @param state a word beside the day when it is not in place; may be empty
   * @param due what is due
   */
  public record Row(
      String patient,
      String ward,
      String day,
      String counted,
      String since,
      String reason,
      String state,
      List<Due> due) {}

  /**
   * One thing that is due.
   *
   * @param what the flag
   * @param since from when, and how long that is
   * @param finding what was found
   * @param why the rule that says so, its source, and the events that it looked at
   */
  public record Due(String what, String since, String finding, Why why) {}

  /**
   * Why something is said.
   *
   * @param rule its number in the list of rules
   * @param source where the rule comes from
   * @param events the facts that were used, each by its source and event id
   */
  public record Why(String rule, String source, String events) {}
}
