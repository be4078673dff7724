package indwell.domain.candidate;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import java.util.List;

/**
 * What a rule worked out, and why.
 *
 * @param <T> what it works out
 */
public record Ruled<T>(T value, Trace trace) {

  static <T> Ruled<T> of(T value, RuleId rule, String finding) {
    return of(value, rule, finding, List.of());
  }

  static <T> Ruled<T> of(T value, RuleId rule, String finding, List<BedsideEvent> facts) {
    return new Ruled<>(value, new Trace(rule, finding, facts));
  }
}
