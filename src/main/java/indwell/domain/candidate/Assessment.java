package indwell.domain.candidate;

import indwell.domain.rule.Trace;
import java.util.List;

/**
 * All that is said about one urine culture, for review by a person.
 *
 * @param window the infection window period
 * @param criteria every criterion with its elements, in a fixed order
 * @param traces the steps in order, each with its rule and the events it used
 */
public record Assessment(
    UrineCulture culture,
    DateRange window,
    List<CriterionResult> criteria,
    Outcome outcome,
    List<Trace> traces) {
  public Assessment {
    criteria = List.copyOf(criteria);
    traces = List.copyOf(traces);
  }
}
