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
  public CriterionResult judge(CultureWorkup workup, List<CriterionResult> before) {
    Element blood = bloodElement(workup);
    Optional<DateOfEvent> date = blood.on().map(workup::dateOfEvent);
    Element quiet = quietElement(workup, before, date);
    return new CriterionResult(
        Criterion.ABUTI,
        RuleId.ABUTI_1,
        List.of(workup.cultureElement(), blood, quiet),
        date.filter(any -> quiet.met()));
  }

  private static Element bloodElement(CultureWorkup workup) {
    List<Organism> urine = workup.pathogens().value();
    Optional<BloodCulture> first =
        workup.blood().stream()
            .filter(one -> workup.window().value().holds(one.collectedOn()))
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
      CultureWorkup workup, List<CriterionResult> before, Optional<DateOfEvent> date) {
    Optional<String> symptom =
        before.stream()
            .flatMap(result -> result.elements().stream())
            .filter(one -> one.met() && one.kind() instanceof Symptom)
            .map(one -> one.kind().words())
            .findFirst()
            .or(() -> fever(workup, date));
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
  private static Optional<String> fever(CultureWorkup workup, Optional<DateOfEvent> date) {
    Optional<LocalDate> fever = workup.findings().first(Symptom.FEVER).value();
    return date.map(DateOfEvent::date)
        .filter(workup::isEligible)
        .flatMap(any -> fever)
        .map(any -> Symptom.FEVER.words());
  }
}
