package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import java.util.List;

/**
 * Why a rule said what it said.
 *
 * @param rule which rule
 * @param source where the rule comes from, as it was read here
 * @param finding one sentence: what was found, with values and units
 * @param facts the events that were used, the decisive one first
 */
public record Trace(RuleId rule, String source, String finding, List<BedsideEvent> facts) {
  public Trace {
    facts = List.copyOf(facts);
  }

  /** With the source of the rule itself. */
  public Trace(RuleId rule, String finding, List<BedsideEvent> facts) {
    this(rule, rule.source(), finding, facts);
  }
}
