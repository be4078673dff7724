package indwell.adapter.validation;

import indwell.adapter.validation.Elements.Found;
import indwell.domain.refusal.Visible;
import indwell.port.ProfileValidator.Rule;
import java.util.Optional;
import java.util.function.Predicate;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.ElementDefinition.TypeRefComponent;

/**
 * What a sentence about a message can draw on: the place, its definitions, codes.
 *
 * @param statedIn canonical of the definition that states the invariant, empty for other messages
 */
record Scene(Location location, String statedIn, Elements elements, Codes codes) {
  private static final int SHOWN = 80;

  /** What is told instead of a message. */
  record Told(String sentence, Optional<Rule> rule) {
    static Told by(Rule rule, String sentence) {
      return new Told(sentence, Optional.of(rule));
    }
  }

  /** A value of the resource in quotation marks. */
  static String quoted(String value) {
    return Visible.quoted(value, SHOWN);
  }

  /** The rule of the first definition of the place that is of that kind. */
  Optional<Rule> ruleAt(String kind, Predicate<ElementDefinition> which) {
    return elements.at(location, which).map(found -> rule(kind, found));
  }

  /** What R4 says of the place; nothing where only some resource is named. */
  Optional<Rule> ruleOfR4(String kind) {
    return elements
        .base(location.paths().get(0))
        .filter(found -> found.element().getType().stream().noneMatch(Scene::isAnyResource))
        .map(found -> rule(kind, found));
  }

  private static boolean isAnyResource(TypeRefComponent type) {
    return "Resource".equals(type.getWorkingCode());
  }

  private static Rule rule(String kind, Found found) {
    return new Rule(kind, found.element().getId(), found.canonical());
  }
}
