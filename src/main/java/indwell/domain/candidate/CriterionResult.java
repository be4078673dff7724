package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.util.List;
import java.util.Optional;

/**
 * What one criterion says of one culture.
 *
 * @param elements each that it asks for, in a fixed order
 * @param dateOfEvent empty when the criterion is not met
 */
public record CriterionResult(
    Criterion criterion, RuleId rule, List<Element> elements, Optional<DateOfEvent> dateOfEvent) {
  public CriterionResult {
    elements = List.copyOf(elements);
  }

  /** Whether the criterion is met. */
  public boolean met() {
    return dateOfEvent.isPresent();
  }
}
