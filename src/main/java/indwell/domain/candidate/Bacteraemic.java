package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * A usable culture, a bacterium of it in blood within the window, and no symptom that a symptomatic
 * criterion could use. Fever keeps it from being met where the date of event is eligible, at any
 * age; otherwise fever over 65 does not.
 *
 * <p>Rule ABUTI-1. Source: NHSN manual chapter 7, Table 1 (rule U4; restated, Taiwan CDC). The
 * second route (common commensals in two blood specimens; from memory) is not worked out.
 */
final class Bacteraemic implements CriterionRule {

  @Override
  public CriterionResult judge(Evidence evidence, List<CriterionResult> before) {
    Element blood = bloodElement(evidence);
    Optional<DateOfEvent> date = blood.on().map(evidence::dateOfEvent);
    Element quiet = quietElement(evidence, before, date);
    return new CriterionResult(
        Criterion.ABUTI,
        RuleId.ABUTI_1,
        List.of(evidence.cultureElement(), blood, quiet),
        date.filter(any -> quiet.met()));
  }

  private static Element bloodElement(Evidence evidence) {
    List<Organism> urine = evidence.pathogens().value();
    Optional<BloodCulture> first =
        evidence.blood().stream()
            .filter(one -> evidence.window().value().holds(one.collectedOn()))
            .filter(one -> !one.matching(urine).isEmpty())
            .min(Comparator.comparing(BloodCulture::collectedOn));
    String finding =
        first
            .map(
                one ->
                    one.matching(urine).get(0).name()
                        + " is in the blood of "
                        + one.collectedOn()
                        + " and in the urine.")
            .orElse("No bacterium of the urine culture is in blood of the window.");
    return new Element(
        ElementKind.Evidence.BLOOD_CULTURE,
        first.isPresent(),
        first.map(BloodCulture::collectedOn),
        new Trace(RuleId.ABUTI_1, finding, List.of()));
  }

  private static Element quietElement(
      Evidence evidence, List<CriterionResult> before, Optional<DateOfEvent> date) {
    Optional<String> symptom =
        before.stream()
            .flatMap(result -> result.elements().stream())
            .filter(one -> one.met() && one.kind() instanceof Symptom)
            .map(one -> one.kind().words())
            .findFirst()
            .or(() -> fever(evidence, date));
    String finding =
        symptom
            .map(name -> "There is a symptom that counts: " + name + ".")
            .orElse("No symptom counts within the window.");
    return new Element(
        ElementKind.Evidence.NO_SYMPTOM,
        symptom.isEmpty(),
        Optional.empty(),
        new Trace(RuleId.ABUTI_1, finding, List.of()));
  }

  /** A fever that no criterion can use is a symptom all the same where the device counts. */
  private static Optional<String> fever(Evidence evidence, Optional<DateOfEvent> date) {
    Optional<LocalDate> fever = evidence.findings().first(Symptom.FEVER).value();
    return date.map(DateOfEvent::date)
        .filter(evidence::isEligible)
        .flatMap(any -> fever)
        .map(any -> Symptom.FEVER.words());
  }
}
