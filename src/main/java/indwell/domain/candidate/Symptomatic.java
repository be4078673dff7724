package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * What the symptomatic criteria share: a usable culture and one symptom. Each symptom is judged by
 * the date of event that it would make with the culture; the earliest of those that are met is the
 * date of event of the criterion.
 */
final class Symptomatic {
  private Symptomatic() {}

  /** What a criterion asks beside the symptom itself. */
  @FunctionalInterface
  interface Condition {
    /** Why the symptom does not meet the criterion on that date of event; empty when it does. */
    Optional<String> fault(Symptom symptom, LocalDate dateOfEvent);
  }

  static CriterionResult judge(
      Criterion criterion,
      RuleId rule,
      List<Symptom> symptoms,
      CultureWorkup workup,
      Condition condition) {
    List<Element> elements = new ArrayList<>();
    elements.add(workup.cultureElement());
    symptoms.forEach(symptom -> elements.add(element(symptom, workup, condition)));
    Optional<DateOfEvent> earliest =
        elements.stream()
            .filter(one -> one.met() && one.kind() instanceof Symptom)
            .flatMap(one -> one.on().stream())
            .map(workup::dateOfEvent)
            .min(Comparator.comparing(DateOfEvent::firstElement));
    return new CriterionResult(
        criterion, rule, elements, earliest.filter(date -> workup.isUsable()));
  }

  private static Element element(Symptom symptom, CultureWorkup workup, Condition condition) {
    Ruled<Optional<LocalDate>> first = workup.findings().first(symptom);
    Optional<String> fault =
        first.value().flatMap(on -> condition.fault(symptom, workup.dateOfEvent(on).date()));
    Trace trace = first.trace();
    String finding = trace.finding() + fault.map(why -> " Not met: " + why).orElse("");
    return new Element(
        symptom,
        first.value().isPresent() && fault.isEmpty(),
        first.value(),
        new Trace(trace.rule(), finding, trace.facts()));
  }
}
