package indwell.adapter.validation;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.extensions.ExtensionDefinitions;
import org.hl7.fhir.r5.extensions.ExtensionUtilities;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.ElementDefinition.ElementDefinitionConstraintComponent;

/**
 * The invariants of one element definition, those apart that can be seen to hold without the
 * library's evaluator.
 *
 * <p>What is known of an invariant is a condition under which it holds for sure. An element that
 * does not meet it is judged by the library. An invariant is known by its expression, letter by
 * letter, so that no other is taken for it. Source of the expressions: FHIR R4, the definitions.
 */
final class SureConstraints {
  private static final String ANY_VALUE = "hasValue() or (children().count() > id.count())";

  private static final Map<String, Predicate<Element>> SURE =
      Map.ofEntries(
          Map.entry(ANY_VALUE, SureConstraints::hasContent),
          Map.entry("extension.exists() != value.exists()", SureConstraints::isEitherOr),
          Map.entry(
              "reference.startsWith('#').not() or (reference.substring(1).trace('url') in"
                  + " %rootResource.contained.id.trace('ids'))",
              one -> !value(one, "reference").startsWith("#")),
          Map.entry(
              "start.hasValue().not() or end.hasValue().not() or (start <= end)",
              SureConstraints::isForward),
          Map.entry(
              "code.empty() or system.exists()",
              one -> !has(one, "code") || hasFull(one, "system")),
          Map.entry("contained.contained.empty()", one -> !has(one, "contained")),
          Map.entry(
              "contained.meta.versionId.empty() and contained.meta.lastUpdated.empty()",
              one -> !has(one, "contained")),
          Map.entry("contained.meta.security.empty()", one -> !has(one, "contained")),
          Map.entry(
              "dataAbsentReason.empty() or value.empty()",
              one -> !has(one, "dataAbsentReason") || !hasChoice(one, "value")),
          Map.entry(
              "value.empty() or component.code.where("
                  + "coding.intersect(%resource.code.coding).exists()).empty()",
              one -> !hasChoice(one, "value") || !has(one, "component")),
          Map.entry(
              "group.stratifier.stratum.all(value.exists() xor component.exists())",
              one -> one.getChildren().stream().noneMatch(child -> has(child, "stratifier"))));

  private final List<Predicate<Element>> sure = new ArrayList<>();
  private final ElementDefinition unknown = new ElementDefinition();

  SureConstraints(ElementDefinition definition) {
    unknown.setPath(definition.getPath());
    unknown.setType(definition.getType());
    for (ElementDefinitionConstraintComponent one : definition.getConstraint()) {
      Predicate<Element> condition = SURE.get(one.getExpression());
      if (condition != null) {
        sure.add(condition);
      } else if (!isAdvice(one)) {
        unknown.getConstraint().add(one);
      }
    }
  }

  /** Advice is asked not to be told ({@link ValidatorSlot}). */
  private static boolean isAdvice(ElementDefinitionConstraintComponent constraint) {
    return ExtensionUtilities.readBoolExtension(constraint, ExtensionDefinitions.EXT_BEST_PRACTICE);
  }

  /** Whether an element with a value and nothing else meets it, whatever the value is. */
  static boolean holdsOfAnyValue(ElementDefinitionConstraintComponent constraint) {
    return ANY_VALUE.equals(constraint.getExpression());
  }

  /** Whether nothing but what is known here is asked. */
  static boolean knows(ElementDefinition definition) {
    return !new SureConstraints(definition).hasUnknown();
  }

  /** Whether all hold that are known here. */
  boolean hold(Element element) {
    for (Predicate<Element> one : sure) {
      if (!one.test(element)) {
        return false;
      }
    }
    return true;
  }

  /** Whether others are left. */
  boolean hasUnknown() {
    return unknown.hasConstraint();
  }

  /** The place with the others alone. */
  ElementDefinition unknown() {
    return unknown;
  }

  /** What is there but empty is for the library to judge. */
  private static boolean hasContent(Element element) {
    String value = element.primitiveValue();
    if (value != null && !value.isBlank()) {
      return true;
    }
    for (Element child : element.getChildren()) {
      if (!child.getName().equals("id") && hasContent(child)) {
        return true;
      }
    }
    return false;
  }

  private static boolean isEitherOr(Element extension) {
    return has(extension, "extension")
        ? hasFull(extension, "extension") && !hasChoice(extension, "value")
        : hasFull(extension, "value");
  }

  /** Whether there is a child of that name or stem that is not empty. */
  private static boolean hasFull(Element element, String stem) {
    for (Element child : element.getChildren()) {
      if (child.getName().startsWith(stem) && hasContent(child)) {
        return true;
      }
    }
    return false;
  }

  private static boolean has(Element element, String name) {
    for (Element child : element.getChildren()) {
      if (child.getName().equals(name)) {
        return true;
      }
    }
    return false;
  }

  /** Whether there is a child of a choice of types, whose name goes on with the type. */
  private static boolean hasChoice(Element element, String stem) {
    for (Element child : element.getChildren()) {
      if (child.getName().startsWith(stem)) {
        return true;
      }
    }
    return false;
  }

  private static String value(Element element, String name) {
    for (Element child : element.getChildren()) {
      if (child.getName().equals(name)) {
        String value = child.primitiveValue();
        return value == null ? "" : value;
      }
    }
    return "";
  }

  /** Times of the same form and offset are in order when their texts are. */
  private static boolean isForward(Element period) {
    if (!has(period, "start") || !has(period, "end")) {
      return true;
    }
    String start = value(period, "start");
    String end = value(period, "end");
    return start.length() == end.length()
        && PlainValues.isRight("instant", start)
        && PlainValues.isRight("instant", end)
        && offset(start).equals(offset(end))
        && start.compareTo(end) <= 0;
  }

  private static String offset(String moment) {
    return moment.endsWith("Z") ? "Z" : moment.substring(moment.length() - "+00:00".length());
  }
}
