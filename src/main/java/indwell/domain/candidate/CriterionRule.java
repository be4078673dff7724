package indwell.domain.candidate;

import java.util.List;

/** One criterion, as a rule over the workup about one culture. */
interface CriterionRule {
  /**
   * What it says.
   *
   * @param before what the criteria before it in {@link AllCriteria} said
   */
  CriterionResult judge(CultureWorkup workup, List<CriterionResult> before);
}
