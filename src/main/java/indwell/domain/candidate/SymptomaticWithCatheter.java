package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A usable culture and a symptom, with a date of event on which a device-associated event is
 * eligible; at any age.
 *
 * <p>Rule SUTI-1A. Source: NHSN manual chapter 7, Table 1 (rule U1; restated, Taiwan CDC).
 */
final class SymptomaticWithCatheter implements CriterionRule {
  static final List<Symptom> SYMPTOMS =
      List.of(
          Symptom.FEVER,
          Symptom.SUPRAPUBIC_TENDERNESS,
          Symptom.COSTOVERTEBRAL_PAIN,
          Symptom.URGENCY,
          Symptom.FREQUENCY,
          Symptom.DYSURIA);

  @Override
  public CriterionResult judge(CultureWorkup workup, List<CriterionResult> before) {
    return Symptomatic.judge(
        Criterion.SUTI_1A,
        RuleId.SUTI_1A,
        SYMPTOMS,
        workup,
        (symptom, date) -> fault(workup, date));
  }

  private static Optional<String> fault(CultureWorkup workup, LocalDate date) {
    return workup.isEligible(date)
        ? Optional.empty()
        : Optional.of("the date of event would be " + date + ", which is not eligible.");
  }
}
