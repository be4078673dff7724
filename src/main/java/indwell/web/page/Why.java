package indwell.web.page;

import java.util.List;

/**
 * Why a page says something.
 *
 * @param finding what was found, with values and units
 * @param rule its number in the list of rules
 * @param source where the rule comes from
 * @param facts what of the record was used
 */
public record Why(List<Piece> finding, String rule, String source, List<Fact> facts) {
  public Why {
    finding = List.copyOf(finding);
    facts = List.copyOf(facts);
  }

  /**
   * A stretch of a sentence.
   *
   * @param text before the time
   * @param time empty or one
   */
  public record Piece(String text, List<Moment> time) {
    public Piece {
      time = List.copyOf(time);
    }
  }

  /**
   * An event of the record.
   *
   * @param what kind of event
   * @param at when it happened
   * @param event its source and event id
   */
  public record Fact(String what, Moment at, String event) {}
}
