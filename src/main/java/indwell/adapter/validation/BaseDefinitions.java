package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.parser.LenientErrorHandler;
import indwell.adapter.validation.DefinitionFile.Slice;
import java.util.Collection;
import java.util.Date;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r5.model.PackageInformation;
import org.jspecify.annotations.Nullable;

/**
 * All definitions of base R4, each parsed when it is first asked for.
 *
 * <p>The library's own support parses all of them at once. Answers are the same; a test proves it
 * on the whole of R4.
 */
@SuppressWarnings("JavaUtilDate") // HAPI speaks of dates so
final class BaseDefinitions implements IValidationSupport {
  /** Where the definitions come from; the validator takes a type for FHIR's own by this. */
  static final PackageInformation PACKAGE =
      new PackageInformation("hl7.fhir.r4", null, null, new Date(0));

  /** The address of a type of FHIR's own is this and its name. */
  static final String BASE = "http://hl7.org/fhir/StructureDefinition/";

  static final String STRUCTURE = "StructureDefinition";

  static final String CODE_SYSTEM = "CodeSystem";
  static final String VALUE_SET = "ValueSet";
  private static final String VERSION = "|4.0.1";
  private static final List<String> PROFILES =
      List.of(
          "profile/profiles-resources.xml",
          "profile/profiles-types.xml",
          "profile/profiles-others.xml",
          "extension/extension-definitions.xml");
  private static final List<String> TERMINOLOGY =
      List.of("valueset/valuesets.xml", "valueset/v2-tables.xml", "valueset/v3-codesystems.xml");

  private final FhirContext fhir;
  private final Groundwork groundwork;
  private final Map<String, Slice> structures = new LinkedHashMap<>();
  private final Map<String, Slice> codeSystems = new LinkedHashMap<>();
  private final Map<String, Slice> valueSets = new LinkedHashMap<>();
  private final Map<Slice, IBaseResource> parsed = new ConcurrentHashMap<>();

  BaseDefinitions(FhirContext fhir, Groundwork groundwork) {
    this.fhir = fhir;
    this.groundwork = groundwork;
    groundwork.slices().forEach(slice -> ofType(slice.type()).put(slice.url(), slice));
  }

  /** Looks where each definition stands, which takes reading through all of R4. */
  static List<Slice> scan() {
    return Stream.concat(
            PROFILES.stream().map(name -> new DefinitionFile(name).scan(Set.of(STRUCTURE))),
            TERMINOLOGY.stream()
                .map(name -> new DefinitionFile(name).scan(Set.of(CODE_SYSTEM, VALUE_SET))))
        .flatMap(List::stream)
        .toList();
  }

  private Map<String, Slice> ofType(String type) {
    return switch (type) {
      case STRUCTURE -> structures;
      case CODE_SYSTEM -> codeSystems;
      default -> valueSets;
    };
  }

  /** Canonical URLs of everything that is here, by kind. */
  Map<String, Set<String>> canonicals() {
    return Map.of(
        STRUCTURE, structures.keySet(),
        CODE_SYSTEM, codeSystems.keySet(),
        VALUE_SET, valueSets.keySet());
  }

  @Override
  public FhirContext getFhirContext() {
    return fhir;
  }

  @Override
  public @Nullable IBaseResource fetchStructureDefinition(String url) {
    String full = url.indexOf('/') < 0 ? BASE + url : url;
    return fetch(structures, full.endsWith(VERSION) ? withoutVersion(full) : full);
  }

  @Override
  public @Nullable IBaseResource fetchCodeSystem(String system) {
    return fetch(codeSystems, withoutVersion(system));
  }

  @Override
  public @Nullable IBaseResource fetchValueSet(String url) {
    return fetch(valueSets, withoutVersion(url));
  }

  /** R4's terminology has one version each, whatever version a binding is pinned to. */
  private static String withoutVersion(String canonical) {
    int bar = canonical.indexOf('|');
    return bar > 0 ? canonical.substring(0, bar) : canonical;
  }

  /** Those that were asked for up to now. */
  Collection<IBaseResource> asked() {
    return parsed.values();
  }

  /** Whether a structure is one of these. */
  boolean holds(String url) {
    return structures.containsKey(url);
  }

  private @Nullable IBaseResource fetch(Map<String, Slice> from, String url) {
    Slice slice = from.get(url);
    return slice == null ? null : parsed.computeIfAbsent(slice, this::parse);
  }

  private IBaseResource parse(Slice slice) {
    IBaseResource ready = groundwork.terminology(slice.type(), slice.url());
    return ready == null ? parseXml(slice) : ready;
  }

  private IBaseResource parseXml(Slice slice) {
    return fhir.newXmlParser()
        .setParserErrorHandler(new LenientErrorHandler().setErrorOnInvalidValue(false))
        .parseResource(slice.xml());
  }
}
