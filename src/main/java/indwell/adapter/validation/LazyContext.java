package indwell.adapter.validation;

import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.context.support.ValidationSupportContext;
import ca.uhn.hapi.converters.canonical.VersionCanonicalizer;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import org.hl7.fhir.common.hapi.validation.support.SnapshotGeneratingValidationSupport;
import org.hl7.fhir.common.hapi.validation.validator.WorkerContextValidationSupportAdapter;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r5.model.CodeSystem;
import org.hl7.fhir.r5.model.Resource;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.model.StructureDefinition.StructureDefinitionKind;
import org.hl7.fhir.r5.model.ValueSet;
import org.jspecify.annotations.Nullable;

/**
 * The validator's view of the definitions, in the form that the validator works on (R5), each
 * prepared when it is first asked for and kept.
 *
 * <p>The library's own view prepares every definition of R4 to answer which types there are, and
 * reads in all of R5's resource classes to learn their names. Neither is needed here.
 */
final class LazyContext extends WorkerContextValidationSupportAdapter {
  private final IValidationSupport chain;
  private final Groundwork groundwork;
  private final BaseDefinitions base;
  private final VersionCanonicalizer converter;
  private final SnapshotGeneratingValidationSupport snapshots;
  private final List<StructureDefinition> types;
  private final Set<String> primitives;
  private final Map<String, StructureDefinition> structures = new ConcurrentHashMap<>();
  private final Map<String, StructureDefinition> byType = new ConcurrentHashMap<>();

  /** Of other kinds, and those that were asked for without a kind, by both. */
  private final Map<String, Resource> others = new ConcurrentHashMap<>();

  private final IdentityHashMap<IBaseResource, Resource> prepared = new IdentityHashMap<>();

  LazyContext(IValidationSupport chain, BaseDefinitions base, Groundwork groundwork) {
    super(chain);
    this.groundwork = groundwork;
    this.chain = chain;
    this.base = base;
    this.converter = new VersionCanonicalizer(chain.getFhirContext());
    this.snapshots = new SnapshotGeneratingValidationSupport(chain.getFhirContext(), this);
    this.types =
        groundwork.types(this::type).stream().<StructureDefinition>map(head -> head).toList();
    this.primitives =
        types.stream()
            .filter(type -> type.getKind() == StructureDefinitionKind.PRIMITIVETYPE)
            .map(StructureDefinition::getName)
            .collect(Collectors.toCollection(HashSet::new));
  }

  private StructureDefinition type(String url) {
    return Objects.requireNonNull(fetchResource(StructureDefinition.class, url), url);
  }

  @Override
  @SuppressWarnings("unchecked")
  public <T extends Resource> List<T> fetchResourcesByType(Class<T> type) {
    return type.equals(StructureDefinition.class)
        ? (List<T>) types
        : super.fetchResourcesByType(type);
  }

  @Override
  public List<StructureDefinition> fetchTypeDefinitions(String name) {
    return types.stream().filter(type -> name.equals(type.getType())).toList();
  }

  @Override
  public boolean isPrimitiveType(String name) {
    return primitives.contains(name);
  }

  @Override
  public @Nullable CodeSystem fetchCodeSystem(String system) {
    return fetchResource(CodeSystem.class, system);
  }

  @Override
  public @Nullable CodeSystem fetchCodeSystem(
      String system, @Nullable String version, @Nullable Resource source) {
    boolean any = version == null || version.isBlank();
    return fetchCodeSystem(any ? system : system + "|" + version);
  }

  @Override
  public <T extends Resource> boolean hasResource(Class<T> type, @Nullable String canonical) {
    return fetchResource(type, canonical) != null;
  }

  @Override
  public @Nullable StructureDefinition fetchTypeDefinition(String name) {
    StructureDefinition known = name == null ? null : byType.get(name);
    if (known == null) {
      known = super.fetchTypeDefinition(name);
      if (known != null) {
        byType.put(name, known);
      }
    }
    return known;
  }

  @Override
  public <T extends Resource> @Nullable T fetchResource(Class<T> type, @Nullable String canonical) {
    if (canonical == null) {
      return null;
    }
    return type == StructureDefinition.class
        ? type.cast(fetch(structures, canonical, StructureDefinition.class, canonical))
        : fetch(others, type.getSimpleName() + " " + canonical, type, canonical);
  }

  private <T extends Resource> @Nullable T fetch(
      Map<String, ? super T> from, String key, Class<T> type, String canonical) {
    Object known = from.get(key);
    if (known != null) {
      return type.cast(known);
    }
    // What is not found is not remembered: callers may ask for anything.
    Resource made = canonical.isBlank() ? null : made(type, canonical);
    if (made == null) {
      return null;
    }
    from.put(key, type.cast(made));
    return type.cast(made);
  }

  private @Nullable Resource made(Class<?> type, String canonical) {
    boolean structure = type.equals(StructureDefinition.class) || type.equals(Resource.class);
    StructureDefinition ready = structure ? groundwork.structure(canonical) : null;
    if (ready != null) {
      return withPackage(ready);
    }
    IBaseResource found = find(type, canonical);
    return found == null ? null : prepare(found);
  }

  private @Nullable IBaseResource find(Class<?> type, String canonical) {
    if (type.equals(StructureDefinition.class)) {
      return chain.fetchStructureDefinition(canonical);
    }
    if (type.equals(ValueSet.class)) {
      return chain.fetchValueSet(canonical);
    }
    if (type.equals(CodeSystem.class)) {
      return chain.fetchCodeSystem(canonical);
    }
    return type.equals(Resource.class) ? findOfAnyType(canonical) : null;
  }

  private @Nullable IBaseResource findOfAnyType(String canonical) {
    for (Class<?> type : List.of(StructureDefinition.class, ValueSet.class, CodeSystem.class)) {
      IBaseResource found = find(type, canonical);
      if (found != null) {
        return found;
      }
    }
    return null;
  }

  /** Converts and completes a definition; a profile asks for its base while it is completed. */
  private synchronized Resource prepare(IBaseResource definition) {
    Resource done = prepared.get(definition);
    if (done == null) {
      done = converter.resourceToValidatorCanonical(definition);
      if (done instanceof StructureDefinition profile && profile.getSnapshot().isEmpty()) {
        done = converter.resourceToValidatorCanonical(withSnapshot(definition));
      }
      if (done instanceof StructureDefinition structure) {
        done = withPackage(structure);
      }
      prepared.put(definition, done);
    }
    return done;
  }

  private StructureDefinition withPackage(StructureDefinition structure) {
    if (base.holds(structure.getUrl())) {
      structure.setSourcePackage(BaseDefinitions.PACKAGE);
    }
    return structure;
  }

  /** The structures that were asked for up to now, by URL. */
  SortedMap<String, StructureDefinition> structures() {
    SortedMap<String, StructureDefinition> asked = new TreeMap<>();
    for (StructureDefinition one : structures.values()) {
      asked.put(one.getUrl(), one);
    }
    for (Resource one : others.values()) {
      if (one instanceof StructureDefinition structure) {
        asked.put(structure.getUrl(), structure);
      }
    }
    return asked;
  }

  /** The definition as it was given, completed by its base. */
  IBaseResource withSnapshot(IBaseResource definition) {
    return snapshots.generateSnapshot(
        new ValidationSupportContext(chain), definition, "", null, "");
  }
}
