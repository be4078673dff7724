package indwell.adapter.validation;

import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.WeakHashMap;
import org.hl7.fhir.r5.conformance.profile.ProfileUtilities.SourcedChildDefinitions;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.elementmodel.Element;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.validation.instance.utils.ElementInfo;

/** What is known of the definitions that one validator came by; used by one thread at a time. */
final class PlainElements {
  /** Places and codes that are remembered: nobody may fill the heap with codes of his own. */
  private static final int MOST = 20_000;

  private static final String EXTENSION = "Extension";

  private final IWorkerContext context;
  private final IdentityHashMap<
          StructureDefinition, IdentityHashMap<ElementDefinition, Map<String, Place>>>
      places = new IdentityHashMap<>();
  private final IdentityHashMap<ElementDefinition, SureConstraints> constraints =
      new IdentityHashMap<>();

  /** Some lists of definitions are made for one resource and gone after it. */
  private final Map<SourcedChildDefinitions, PlainChildren> children = new WeakHashMap<>();

  private int known;

  PlainElements(IWorkerContext context) {
    this.context = context;
  }

  /** One of them, or none. */
  private record Place(
      Optional<PlainPrimitive> primitive,
      Optional<PlainComplex> complex,
      Optional<ExtensionPlace> extension) {}

  /** What a glance at an element told. */
  interface Glance {
    /** An element of which nothing is known here. */
    Glance NONE =
        new Glance() {
          @Override
          public boolean isRight() {
            return false;
          }

          @Override
          public void learn() {}
        };

    /** Whether the library would have nothing to say of it. */
    boolean isRight();

    /** The library had nothing to say of it. */
    void learn();
  }

  private record AtPrimitive(PlainPrimitive place, Element element, Runnable counter)
      implements Glance {
    @Override
    public boolean isRight() {
      return place.isRight(element);
    }

    @Override
    public void learn() {
      if (place.learn(element)) {
        counter.run();
      }
    }
  }

  /** A place that remembers what the library had nothing to say of. */
  interface Remembering {
    /** Whether it had nothing to say of an element with that key. */
    boolean hasFound(String key);

    /** It had nothing to say of one; whether that is new and remembered. */
    boolean learn(String key);
  }

  private record AtKey(Remembering place, String key, Runnable counter) implements Glance {
    @Override
    public boolean isRight() {
      return place.hasFound(key);
    }

    @Override
    public void learn() {
      if (place.learn(key)) {
        counter.run();
      }
    }
  }

  /**
   * Looks at a child of an element.
   *
   * @param mood what else the library's answer depends on
   * @param grouping whether references may lead to another resource of the same document
   */
  Glance look(
      StructureDefinition profile,
      Element parent,
      ElementInfo child,
      String mood,
      boolean grouping) {
    Element element = child.getElement();
    String name = child.getName();
    // The canonical URL of a definition has rules of its own.
    boolean canonical = name.equals("url") && !parent.fhirType().equals(EXTENSION);
    if (child.getDefinition() == null || child.getSlice() != null || canonical) {
      return Glance.NONE;
    }
    String type = element.fhirType();
    Place place = place(profile, child, type, mood);
    if (place.primitive.isPresent()) {
      return place.primitive.get().isOf(type)
          ? new AtPrimitive(place.primitive.get(), element, this::makeRoom)
          : Glance.NONE;
    }
    return place
        .complex
        .filter(one -> one.isOf(type))
        .<Glance>flatMap(
            one -> one.key(element, grouping).map(key -> new AtKey(one, key, this::makeRoom)))
        .orElse(Glance.NONE);
  }

  /**
   * Looks at an extension of a resource or of a value.
   *
   * @param paths of the element that it is on
   */
  Glance lookAtExtension(
      StructureDefinition profile,
      ElementInfo child,
      Set<String> paths,
      String mood,
      boolean grouping) {
    if (child.getDefinition() == null) {
      return Glance.NONE;
    }
    return place(profile, child, EXTENSION, mood)
        .extension
        .flatMap(
            at ->
                at.key(child.getElement(), child.getSlice(), paths, grouping)
                    .<Glance>map(key -> new AtKey(at, key, this::makeRoom)))
        .orElse(Glance.NONE);
  }

  private Place place(StructureDefinition profile, ElementInfo child, String type, String mood) {
    ElementDefinition definition = child.getDefinition();
    String name = child.getName();
    Map<String, Place> byName =
        places
            .computeIfAbsent(profile, any -> new IdentityHashMap<>())
            .computeIfAbsent(definition, any -> new HashMap<>());
    Place place = byName.get(name + mood);
    if (place == null) {
      makeRoom();
      place =
          new Place(
              PlainPrimitive.of(context, profile, definition, name, type),
              PlainComplex.of(context, profile, definition, name, type),
              type.equals(EXTENSION)
                  ? ExtensionPlace.of(context, profile, definition, child.getSlice())
                  : Optional.empty());
      byName.put(name + mood, place);
    }
    return place;
  }

  SureConstraints constraintsOf(ElementDefinition definition) {
    SureConstraints found = constraints.get(definition);
    if (found == null) {
      makeRoom();
      found = new SureConstraints(definition);
      constraints.put(definition, found);
    }
    return found;
  }

  PlainChildren childrenOf(SourcedChildDefinitions definitions) {
    return children.computeIfAbsent(definitions, PlainChildren::new);
  }

  private void makeRoom() {
    if (known++ == MOST) {
      places.clear();
      constraints.clear();
      known = 0;
    }
  }
}
