package indwell.domain.candidate;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** All criteria, in the order in which they are tried. */
final class AllCriteria {
  private static final List<CriterionRule> IN_ORDER =
      List.of(
          new SymptomaticWithCatheter(),
          new SymptomaticWithoutCatheter(),
          new SymptomaticInfant(),
          new Bacteraemic());

  private AllCriteria() {}

  /** What each of them says. */
  static List<CriterionResult> judge(CultureWorkup workup) {
    List<CriterionResult> results = new ArrayList<>();
    for (CriterionRule rule : IN_ORDER) {
      results.add(rule.judge(workup, List.copyOf(results)));
    }
    return results;
  }

  /** The one that is met with the earliest first element; of equals the first in order. */
  static Optional<CriterionResult> chosen(List<CriterionResult> results) {
    return results.stream()
        .filter(CriterionResult::met)
        .min(Comparator.comparing(one -> one.dateOfEvent().orElseThrow().firstElement()));
  }
}
