package indwell.adapter.validation;

import java.util.List;
import java.util.Set;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.ElementDefinition.TypeRefComponent;
import org.hl7.fhir.r5.model.StructureDefinition;

/** Whether a definition asks no more of an element than a type and what is known how to look at. */
final class PlainDefinition {
  /** Extensions of an element definition that say nothing about values. */
  private static final Set<String> WITHOUT_RULES =
      Set.of(
          BaseDefinitions.BASE + "elementdefinition-translatable",
          BaseDefinitions.BASE + "structuredefinition-display-hint",
          BaseDefinitions.BASE + "structuredefinition-explicit-type-name",
          BaseDefinitions.BASE + "structuredefinition-normative-version",
          BaseDefinitions.BASE + "structuredefinition-standards-status");

  private PlainDefinition() {}

  /** Whether it is for an element of that name and type and sets no bounds to its value. */
  static boolean isFor(ElementDefinition definition, String name, String type) {
    return isMeant(definition, name, type)
        && !definition.hasSlicing()
        && !definition.hasMinValue()
        && !definition.hasMaxValue()
        && !definition.hasMaxLength()
        // These may depend on the resource around.
        && !definition.getBinding().hasAdditional()
        && definition.getExtension().stream().allMatch(one -> WITHOUT_RULES.contains(one.getUrl()));
  }

  private static boolean isMeant(ElementDefinition definition, String name, String type) {
    List<TypeRefComponent> types = definition.getType();
    if (types.size() == 1) {
      return !types.get(0).hasProfile() && types.get(0).getWorkingCode().equals(type);
    }
    String path = definition.getPath();
    if (types.isEmpty() || !path.endsWith("[x]")) {
      return false;
    }
    String stem = path.substring(path.lastIndexOf('.') + 1, path.length() - "[x]".length());
    String ofType = stem + Character.toUpperCase(type.charAt(0)) + type.substring(1);
    return name.equals(ofType)
        && types.stream().noneMatch(TypeRefComponent::hasProfile)
        && types.stream().anyMatch(one -> type.equals(one.getWorkingCode()));
  }

  /** What the profile says of the elements below the one that is defined. */
  static List<ElementDefinition> below(StructureDefinition profile, ElementDefinition definition) {
    String id = definition.getId() + ".";
    return profile.getSnapshot().getElement().stream()
        .filter(one -> one.getId().startsWith(id))
        .toList();
  }
}
