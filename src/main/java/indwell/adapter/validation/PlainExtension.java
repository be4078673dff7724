package indwell.adapter.validation;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.extensions.ExtensionDefinitions;
import org.hl7.fhir.r5.extensions.ExtensionUtilities;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.Enumerations.PublicationStatus;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.model.StructureDefinition.ExtensionContextType;
import org.hl7.fhir.r5.model.StructureDefinition.StructureDefinitionContextComponent;
import org.hl7.fhir.utilities.StandardsStatus;
import org.jspecify.annotations.Nullable;

/**
 * What the definition of an extension asks of its content, where that is a value of a known type or
 * parts with one such value each. Which parts there have to be is not known here.
 */
final class PlainExtension {
  private static final String TYPE = "Extension";
  private static final String PART = "Extension.extension";
  private static final String VALUE = "value";
  private static final int LONGEST_VALUE = 100;

  private final IWorkerContext context;
  private final StructureDefinition definition;
  private final Set<String> places;

  /** By the URL of the part, empty for the extension's own, and the name of the value. */
  private final Map<String, Value> values = new HashMap<>();

  /** One of both, or neither. */
  private record Value(Optional<PlainPrimitive> primitive, Optional<PlainComplex> complex) {}

  private PlainExtension(IWorkerContext context, StructureDefinition definition) {
    this.context = context;
    this.definition = definition;
    this.places =
        definition.getContext().stream()
            .map(StructureDefinitionContextComponent::getExpression)
            .collect(Collectors.toUnmodifiableSet());
  }

  /** The one with that URL; empty where its definition asks for more than what is known here. */
  static Optional<PlainExtension> of(IWorkerContext context, String url) {
    StructureDefinition base = definition(context, BaseDefinitions.BASE + TYPE);
    StructureDefinition known = definition(context, url);
    return base != null && known != null && known.getUrl().equals(url) && isPlain(base, known)
        ? Optional.of(new PlainExtension(context, known))
        : Optional.empty();
  }

  private static boolean isPlain(StructureDefinition base, StructureDefinition known) {
    return TYPE.equals(known.getType())
        && isFreeOfRules(base)
        && isFreeOfRules(known)
        && !known.hasContextInvariant()
        && known.getContext().stream().allMatch(PlainExtension::isPlace)
        && isInUse(known);
  }

  private static @Nullable StructureDefinition definition(IWorkerContext context, String url) {
    return context.fetchResource(StructureDefinition.class, url);
  }

  private static boolean isFreeOfRules(StructureDefinition definition) {
    return definition.getSnapshot().getElement().stream().allMatch(SureConstraints::knows);
  }

  /** That one is out of use is said of the first extension alone. */
  private static boolean isInUse(StructureDefinition definition) {
    StandardsStatus status = ExtensionUtilities.getStandardsStatus(definition);
    return definition.getStatus() != PublicationStatus.RETIRED
        && status != StandardsStatus.DEPRECATED
        && status != StandardsStatus.WITHDRAWN
        && !definition.hasExtension(ExtensionDefinitions.EXT_FHIRVERSION_SPECIFIC_USE);
  }

  private static boolean isPlace(StructureDefinitionContextComponent one) {
    String expression = one.getExpression();
    return one.getType() == ExtensionContextType.ELEMENT
        && !one.hasExtension()
        && expression != null
        && expression.chars().allMatch(at -> Character.isLetter(at) || at == '.');
  }

  /** Whether it may stand below an element with those paths. */
  boolean isMeantFor(Set<String> paths) {
    for (String path : paths) {
      if (places.contains(path)) {
        return true;
      }
    }
    return false;
  }

  /**
   * Adds what has to be found before of an extension for it to be right; false where the library
   * has to look.
   */
  boolean add(Element extension, StringBuilder key, boolean grouping) {
    return add(extension, "", key, grouping);
  }

  private boolean add(Element extension, String part, StringBuilder key, boolean grouping) {
    for (Element child : extension.getChildren()) {
      String name = child.getName();
      key.append(name).append('\u0001');
      boolean known =
          switch (name) {
            case "url" -> addText(child, key);
            case "extension" -> part.isEmpty() && addPart(child, key, grouping);
            default -> name.startsWith(VALUE) && addValue(child, part, key, grouping);
          };
      if (!known) {
        return false;
      }
      key.append('\u0002');
    }
    return extension.getValue() == null;
  }

  private static boolean addText(Element child, StringBuilder key) {
    String value = child.getValue();
    key.append(value);
    // Of control characters, two part the values in the key.
    return value != null
        && !child.hasChildren()
        && value.length() <= LONGEST_VALUE
        && value.chars().noneMatch(one -> one < ' ');
  }

  private boolean addPart(Element child, StringBuilder key, boolean grouping) {
    String url = url(child);
    return !url.isEmpty()
        && url.chars().noneMatch(one -> one == ':')
        && add(child, url, key, grouping);
  }

  /** The URL of an extension or of a part of one; empty where there is none. */
  static String url(Element extension) {
    for (Element child : extension.getChildren()) {
      if (child.getName().equals("url")) {
        String url = child.getValue();
        return url == null ? "" : url;
      }
    }
    return "";
  }

  private boolean addValue(Element child, String part, StringBuilder key, boolean grouping) {
    Value value = value(part, child.getName(), child.fhirType());
    if (value.primitive.isPresent()) {
      boolean free = value.primitive.get().isFree();
      return free ? value.primitive.get().isRight(child) : addText(child, key);
    }
    Optional<String> found = value.complex.flatMap(one -> one.key(child, grouping));
    found.ifPresent(key::append);
    return found.isPresent();
  }

  private Value value(String part, String name, String type) {
    String at = part + ' ' + name;
    Value value = values.get(at);
    if (value != null) {
      return value;
    }
    ElementDefinition asked = asked(part);
    if (asked == null) {
      return new Value(Optional.empty(), Optional.empty());
    }
    value =
        new Value(
            PlainPrimitive.of(context, definition, asked, name, type),
            PlainComplex.of(context, definition, asked, name, type));
    values.put(at, value);
    return value;
  }

  /** What is asked of the value of a part; null where it is not told apart by its URL. */
  private @Nullable ElementDefinition asked(String part) {
    if (part.isEmpty()) {
      return byId(TYPE + ".value[x]");
    }
    List<ElementDefinition> of =
        definition.getSnapshot().getElement().stream()
            .filter(one -> one.getPath().equals(PART + ".url"))
            .filter(one -> one.hasFixed() && part.equals(one.getFixed().primitiveValue()))
            .toList();
    if (of.size() != 1) {
      return null;
    }
    String url = of.get(0).getId();
    return byId(url.substring(0, url.length() - "url".length()) + "value[x]");
  }

  private @Nullable ElementDefinition byId(String id) {
    return definition.getSnapshot().getElement().stream()
        .filter(one -> id.equals(one.getId()))
        .findFirst()
        .orElse(null);
  }
}
