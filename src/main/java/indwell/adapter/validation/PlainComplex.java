package indwell.adapter.validation;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;

/**
 * What a definition asks of an element of a few data types: concepts, quantities, periods,
 * identifiers and references to resources elsewhere.
 *
 * <p>Codes, units and the types of targets are not known here. One that the library had nothing to
 * say of is remembered; amounts, times, ids and names beside it are looked at each time.
 */
final class PlainComplex implements PlainElements.Remembering {
  /** What is remembered of one definition. */
  private static final int MOST = 100;

  private static final int LONGEST = 600;
  private static final Pattern TARGET = Pattern.compile("([A-Z][A-Za-z]+)/[A-Za-z0-9.-]{1,64}");
  private static final Pattern SYSTEM = Pattern.compile("https?://(?!tools\\.ietf\\.org).+");

  /** Data types that are known here. */
  private enum Kind {
    CONCEPT("CodeableConcept"),
    CODING("Coding"),
    QUANTITY("Quantity"),
    PERIOD("Period"),
    IDENTIFIER("Identifier"),
    REFERENCE("Reference");

    private final String type;

    Kind(String type) {
      this.type = type;
    }

    static Optional<Kind> of(String type) {
      for (Kind one : values()) {
        if (one.type.equals(type)) {
          return Optional.of(one);
        }
      }
      return Optional.empty();
    }

    /** Whether a value of that name may differ from one element to the next. */
    boolean isFree(String name) {
      return switch (this) {
        case CONCEPT, CODING -> false;
        case QUANTITY -> name.equals("value");
        case PERIOD -> name.equals("start") || name.equals("end");
        case IDENTIFIER -> name.equals("system") || name.equals("value");
        case REFERENCE -> name.equals("reference") || name.equals("display");
      };
    }
  }

  private final Kind kind;
  private final SureConstraints ofPlace;
  private final SureConstraints ofType;
  private final Set<String> found = new HashSet<>();

  private PlainComplex(Kind kind, ElementDefinition place, ElementDefinition type) {
    this.kind = kind;
    this.ofPlace = new SureConstraints(place);
    this.ofType = new SureConstraints(type);
  }

  /** What the definition asks; empty where it asks for more than what is known here. */
  static Optional<PlainComplex> of(
      IWorkerContext context,
      StructureDefinition profile,
      ElementDefinition definition,
      String name,
      String type) {
    Optional<Kind> kind = Kind.of(type);
    StructureDefinition known =
        context.fetchResource(StructureDefinition.class, BaseDefinitions.BASE + type);
    boolean plain =
        kind.isPresent()
            && known != null
            && PlainDefinition.isFor(definition, name, type)
            && SureConstraints.knows(definition)
            && known.getSnapshot().getElement().stream().allMatch(SureConstraints::knows)
            && isPlainBelow(context, profile, definition, kind.get());
    return plain
        ? Optional.of(
            new PlainComplex(kind.get(), definition, known.getSnapshot().getElementFirstRep()))
        : Optional.empty();
  }

  /** What may differ from one element to the next must be free; the rest is remembered as it is. */
  private static boolean isPlainBelow(
      IWorkerContext context,
      StructureDefinition profile,
      ElementDefinition definition,
      Kind kind) {
    boolean whole = kind == Kind.CONCEPT || kind == Kind.CODING;
    if (!whole && (definition.hasFixed() || definition.hasPattern())) {
      return false;
    }
    for (ElementDefinition one : PlainDefinition.below(profile, definition)) {
      String name = one.getPath().substring(definition.getPath().length() + 1);
      boolean free =
          one.getType().size() == 1
              && PlainPrimitive.of(
                      context, profile, one, name, one.getType().get(0).getWorkingCode())
                  .filter(PlainPrimitive::isFree)
                  .isPresent();
      if (!SureConstraints.knows(one) || (kind.isFree(name) && !free)) {
        return false;
      }
    }
    return true;
  }

  boolean isOf(String type) {
    return kind.type.equals(type);
  }

  /**
   * What has to be found before of an element for it to be right; empty where the library has to
   * look.
   *
   * @param grouping whether a reference may lead to another resource of the same document
   */
  Optional<String> key(Element element, boolean grouping) {
    boolean known = ofPlace.hold(element) && ofType.hold(element);
    if (!known || element.getValue() != null || (grouping && kind == Kind.REFERENCE)) {
      return Optional.empty();
    }
    StringBuilder key = new StringBuilder();
    return add(element, key, true) && key.length() <= LONGEST
        ? Optional.of(key.toString())
        : Optional.empty();
  }

  private boolean add(Element element, StringBuilder key, boolean top) {
    if (element.getChildren().isEmpty()) {
      return false;
    }
    for (Element child : element.getChildren()) {
      key.append(child.getName()).append('\u0001');
      if (!addChild(child, key, top)) {
        return false;
      }
      key.append('\u0002');
    }
    return true;
  }

  private boolean addChild(Element child, StringBuilder key, boolean top) {
    String name = child.getName();
    String value = child.getValue();
    if (name.equals("id") || name.equals("extension")) {
      return false;
    }
    if (value == null) {
      // Where a reference leads is not known by its text.
      return !child.fhirType().equals(Kind.REFERENCE.type) && add(child, key, false);
    }
    if (top && kind.isFree(name)) {
      return !child.hasChildren() && isRight(name, child.fhirType(), value, key);
    }
    key.append(value);
    // Of control characters, two part the values in the key.
    return !child.hasChildren() && value.chars().noneMatch(one -> one < ' ');
  }

  /** Whether a value that may differ is right; of a reference the type is kept. */
  private boolean isRight(String name, String type, String value, StringBuilder key) {
    if (!PlainValues.isRight(type, value)) {
      return false;
    }
    if (kind == Kind.IDENTIFIER && name.equals("system")) {
      return SYSTEM.matcher(value).matches();
    }
    if (kind == Kind.REFERENCE && name.equals("reference")) {
      Matcher target = TARGET.matcher(value);
      boolean local = target.matches();
      key.append(local ? target.group(1) : "");
      return local;
    }
    return true;
  }

  @Override
  public boolean hasFound(String key) {
    return found.contains(key);
  }

  /** The library had nothing to say of an element with that key; whether that is remembered. */
  @Override
  public boolean learn(String key) {
    return found.size() < MOST && found.add(key);
  }
}
