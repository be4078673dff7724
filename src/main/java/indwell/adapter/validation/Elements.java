package indwell.adapter.validation;

import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.jspecify.annotations.Nullable;

/**
 * The element definitions behind a place in a resource: those of the profiles that were checked,
 * and below them those of base R4.
 */
final class Elements {
  private static final Pattern OF_TYPE = Pattern.compile("\\.ofType\\((\\w+)\\)");

  private final IWorkerContext context;
  private final List<StructureDefinition> profiles;

  /**
   * @param profiles those that were checked, and the extensions that the resource uses
   */
  Elements(IWorkerContext context, List<StructureDefinition> profiles) {
    this.context = context;
    this.profiles = profiles;
  }

  /** One element of a definition. */
  record Found(StructureDefinition definition, ElementDefinition element) {
    /** Canonical of the definition, with its version. */
    String canonical() {
      return canonicalOf(definition);
    }
  }

  static String canonicalOf(StructureDefinition definition) {
    return definition.getUrl() + "|" + definition.getVersion();
  }

  /** The canonical with the version that is known here, or as it was given. */
  String withVersion(String url) {
    StructureDefinition known = context.fetchResource(StructureDefinition.class, url);
    return known == null || url.contains("|") ? url : canonicalOf(known);
  }

  /** The first one for the place that is of the kind asked for; profiles go before base R4. */
  Optional<Found> at(Location location, Predicate<ElementDefinition> kind) {
    for (StructureDefinition profile : profiles) {
      for (String path : location.paths()) {
        Optional<Found> found =
            profile.getSnapshot().getElement().stream()
                .filter(one -> one.getPath().equals(anyType(path)) && kind.test(one))
                .map(one -> new Found(profile, one))
                .findFirst();
        if (found.isPresent()) {
          return found;
        }
      }
    }
    return base(location.paths().get(0)).filter(found -> kind.test(found.element()));
  }

  /** The element with that id, and those below it, in a profile. */
  List<ElementDefinition> below(String profile, String id) {
    StructureDefinition known = context.fetchResource(StructureDefinition.class, profile);
    return known == null
        ? List.of()
        : known.getSnapshot().getElement().stream()
            .filter(one -> one.getId().equals(id) || one.getId().startsWith(id + "."))
            .toList();
  }

  private static String anyType(String path) {
    return OF_TYPE.matcher(path).replaceAll("[x]");
  }

  /** The definition of base R4, through resource and data types. */
  Optional<Found> base(String path) {
    String marked = OF_TYPE.matcher(path).replaceAll(":$1");
    String[] names = marked.split("\\.", -1);
    Found at = root(names[0]);
    for (int i = 1; i < names.length && at != null; i++) {
      at = child(at, names[i]);
    }
    return Optional.ofNullable(at);
  }

  private @Nullable Found root(String type) {
    StructureDefinition definition =
        context.fetchResource(StructureDefinition.class, BaseDefinitions.BASE + type);
    return definition == null
        ? null
        : new Found(definition, definition.getSnapshot().getElement().get(0));
  }

  /** A name may carry the type that was chosen behind a colon. */
  private @Nullable Found child(Found parent, String name) {
    int colon = name.indexOf(':');
    String element = colon < 0 ? name : name.substring(0, colon) + "[x]";
    Found child = direct(parent, element);
    if (child == null && parent.element().getType().size() == 1) {
      Found type = root(parent.element().getType().get(0).getWorkingCode());
      child = type == null ? null : direct(type, element);
    }
    return child == null || colon < 0 ? child : typed(child, name.substring(colon + 1));
  }

  private static @Nullable Found direct(Found parent, String name) {
    String path = parent.element().getPath() + "." + name;
    return parent.definition().getSnapshot().getElement().stream()
        .filter(one -> one.getPath().equals(path))
        .findFirst()
        .map(one -> new Found(parent.definition(), one))
        .orElse(null);
  }

  /** Of a choice of types, the one that was made. */
  private static Found typed(Found choice, String type) {
    ElementDefinition narrowed = choice.element().copy();
    narrowed.getType().removeIf(one -> !one.getWorkingCode().equals(type));
    return new Found(choice.definition(), narrowed);
  }
}
