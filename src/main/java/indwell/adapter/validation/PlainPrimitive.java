package indwell.adapter.validation;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.model.DataType;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.Enumerations.BindingStrength;
import org.hl7.fhir.r5.model.PrimitiveType;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.model.StructureDefinition.StructureDefinitionKind;
import org.jspecify.annotations.Nullable;

/**
 * What a definition asks of a primitive element, where that is so little that a value can be seen
 * to be right at a glance: its type, perhaps a fixed value, perhaps a value set.
 *
 * <p>Which codes a value set has is not known here. A code that the library has found in it is
 * remembered, for as long as the validator lives.
 */
final class PlainPrimitive {
  /** The library judges this one by the elements beside it. */
  private static final String OF_SIBLINGS = "StructureDefinition.type";

  /** Codes that are remembered of one definition. */
  private static final int MOST = 100;

  private static final int LONGEST_CODE = 100;

  private final String type;
  private final @Nullable String fixed;
  private final boolean isLearnt;
  private final Set<String> found = new HashSet<>();

  private PlainPrimitive(String type, @Nullable String fixed, boolean isLearnt) {
    this.type = type;
    this.fixed = fixed;
    this.isLearnt = isLearnt;
  }

  /**
   * What the definition asks of an element of that name; empty where it asks for more than what is
   * known here.
   *
   * @param type of the element
   */
  static Optional<PlainPrimitive> of(
      IWorkerContext context,
      StructureDefinition profile,
      ElementDefinition definition,
      String name,
      String type) {
    boolean plain =
        PlainDefinition.isFor(definition, name, type)
            && !definition.getPath().equals(OF_SIBLINGS)
            && definition.getConstraint().stream().allMatch(SureConstraints::holdsOfAnyValue)
            && PlainDefinition.below(profile, definition).isEmpty()
            && isOrdinary(context, type);
    DataType pattern = definition.hasFixed() ? definition.getFixed() : definition.getPattern();
    if (!plain || (definition.hasFixed() && definition.hasPattern())) {
      return Optional.empty();
    }
    if (pattern == null) {
      return Optional.of(new PlainPrimitive(type, null, isLearnt(definition, type)));
    }
    boolean simple =
        pattern instanceof PrimitiveType<?> && !pattern.hasExtension() && !pattern.hasId();
    return simple && pattern.fhirType().equals(type)
        ? Optional.of(
            new PlainPrimitive(type, pattern.primitiveValue(), isLearnt(definition, type)))
        : Optional.empty();
  }

  private static boolean isLearnt(ElementDefinition definition, String type) {
    return type.equals("canonical")
        || (definition.hasBinding()
            && definition.getBinding().getStrength() != BindingStrength.EXAMPLE);
  }

  /** Whether any value of the form of the type will do. */
  boolean isFree() {
    return fixed == null && !isLearnt;
  }

  /** Of a type of R4 that asks nothing but its form. */
  private static boolean isOrdinary(IWorkerContext context, String type) {
    StructureDefinition known =
        context.fetchResource(StructureDefinition.class, BaseDefinitions.BASE + type);
    return known != null
        && known.getKind() == StructureDefinitionKind.PRIMITIVETYPE
        && known.getType().equals(type)
        && known.getSnapshot().getElement().stream().allMatch(PlainPrimitive::isOptional)
        && known.getSnapshot().getElementFirstRep().getConstraint().stream()
            .allMatch(SureConstraints::holdsOfAnyValue);
  }

  private static boolean isOptional(ElementDefinition one) {
    return one.getMin() == 0 && !one.hasFixed() && !one.hasPattern();
  }

  boolean isOf(String other) {
    return type.equals(other);
  }

  /** Whether the library would have nothing to say of it. */
  boolean isRight(Element element) {
    String value = element.getValue();
    return value != null
        && !element.hasChildren()
        && PlainValues.isRight(type, value)
        && (fixed == null || fixed.equals(value))
        && (!isLearnt || found.contains(value));
  }

  /** The library had nothing to say of an element; whether that is remembered. */
  boolean learn(Element element) {
    String value = element.getValue();
    return isLearnt
        && value != null
        && value.length() <= LONGEST_CODE
        && !element.hasChildren()
        && found.size() < MOST
        && found.add(value);
  }
}
