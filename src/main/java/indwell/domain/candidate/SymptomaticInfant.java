package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.util.List;
import java.util.Optional;

/**
 * A usable culture and a sign of the youngest, at the age of 1 or less, with or without a catheter.
 *
 * <p>Rule SUTI-2. Source: NHSN manual chapter 7, Table 1 (rule U3; restated, Taiwan CDC); age in
 * completed years on the date of event is a reading of Indwell.
 */
final class SymptomaticInfant implements CriterionRule {
  /** The last age in completed years. */
  static final int OLDEST = 1;

  private static final List<Symptom> SYMPTOMS =
      List.of(
          Symptom.FEVER,
          Symptom.HYPOTHERMIA,
          Symptom.APNEA,
          Symptom.BRADYCARDIA,
          Symptom.LETHARGY,
          Symptom.VOMITING,
          Symptom.SUPRAPUBIC_TENDERNESS);

  @Override
  public CriterionResult judge(CultureWorkup workup, List<CriterionResult> before) {
    return Symptomatic.judge(
        Criterion.SUTI_2,
        RuleId.SUTI_2,
        SYMPTOMS,
        workup,
        (symptom, date) -> fault(workup.age().yearsOn(date)));
  }

  private static Optional<String> fault(int age) {
    return age > OLDEST
        ? Optional.of("this criterion is for the age of 1 or less, and the age is " + age + ".")
        : Optional.empty();
  }
}
