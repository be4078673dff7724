package indwell.fhir.map;

import ca.uhn.fhir.context.BaseRuntimeChildDefinition;
import ca.uhn.fhir.context.BaseRuntimeDeclaredChildDefinition;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** The elements of a resource type at its top, as FHIR R4 defines them. */
public final class TopElements {
  private static final Map<String, TopElements> BY_TYPE = new ConcurrentHashMap<>();
  private static final String CHOICE = "[x]";

  /** What a resource is known by, and so never without. */
  private static final Set<String> ALWAYS = Set.of("resourceType", "id", "meta");

  private final List<Element> elements = new ArrayList<>();

  /**
   * One element.
   *
   * @param name as R4 names it, a choice of types without {@code [x]}
   * @param inJson the names that it can have in JSON
   * @param kept whether a part of a resource has it in any case: it is mandatory, or it changes
   *     what the others mean
   * @param summary whether it is part of the summary
   */
  private record Element(String name, Set<String> inJson, boolean kept, boolean summary) {}

  private TopElements(String type) {
    for (BaseRuntimeChildDefinition child :
        FhirJson.context().getResourceDefinition(type).getChildren()) {
      if (child instanceof BaseRuntimeDeclaredChildDefinition declared) {
        elements.add(
            new Element(
                plain(declared.getElementName()),
                Set.copyOf(declared.getValidChildNames()),
                declared.getMin() > 0 || declared.isModifier(),
                declared.isSummary()));
      }
    }
  }

  /** Those of a type. */
  public static TopElements of(String type) {
    return BY_TYPE.computeIfAbsent(type, TopElements::new);
  }

  private static String plain(String name) {
    return name.endsWith(CHOICE) ? name.substring(0, name.length() - CHOICE.length()) : name;
  }

  /** Their names, ascending. */
  public List<String> names() {
    return elements.stream().map(Element::name).sorted().toList();
  }

  /** Whether there is an element of that name; a choice of types may be named with its type. */
  public boolean has(String name) {
    return ALWAYS.contains(name) || elements.stream().anyMatch(one -> is(one, name));
  }

  private static boolean is(Element element, String name) {
    return element.name().equals(plain(name)) || element.inJson().contains(name);
  }

  /** The names in JSON of the summary, and of what is kept in any case. */
  public Set<String> summary() {
    return inJson(Element::summary);
  }

  /** The names in JSON of those elements, and of what is kept in any case. */
  public Set<String> some(Set<String> names) {
    return inJson(one -> names.stream().anyMatch(name -> is(one, name)));
  }

  private Set<String> inJson(Predicate<Element> wanted) {
    Set<String> names = new HashSet<>(ALWAYS);
    elements.stream()
        .filter(one -> one.kept() || wanted.test(one))
        .flatMap(one -> Stream.concat(Stream.of(one.name()), one.inJson().stream()))
        .forEach(names::add);
    return names;
  }
}
