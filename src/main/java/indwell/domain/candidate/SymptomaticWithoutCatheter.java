package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A usable culture and a symptom, with a date of event on which no device-associated event is
 * eligible: at most two days of catheter use, or none on that date and the date before. Fever
 * counts at the age of 65 and less.
 *
 * <p>Rule SUTI-1B. Source: NHSN manual chapter 7, Table 1 (rule U2; restated, Taiwan CDC); age in
 * completed years on the date of event is a reading of Indwell.
 */
final class SymptomaticWithoutCatheter implements CriterionRule {
  /** The last age, in completed years, at which fever counts. */
  static final int OLDEST_WITH_FEVER = 65;

  @Override
  public CriterionResult judge(CultureWorkup workup, List<CriterionResult> before) {
    return Symptomatic.judge(
        Criterion.SUTI_1B,
        RuleId.SUTI_1B,
        SymptomaticWithCatheter.SYMPTOMS,
        workup,
        (symptom, date) -> fault(workup, symptom, date));
  }

  private static Optional<String> fault(CultureWorkup workup, Symptom symptom, LocalDate date) {
    if (workup.isEligible(date)) {
      return Optional.of("the date of event would be " + date + ", which is eligible.");
    }
    int age = workup.age().yearsOn(date);
    return symptom == Symptom.FEVER && age > OLDEST_WITH_FEVER
        ? Optional.of("fever counts here at 65 years or less, and the age is " + age + ".")
        : Optional.empty();
  }
}
