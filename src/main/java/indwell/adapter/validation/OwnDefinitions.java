package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.context.support.ValidationSupportContext;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r4.model.ValueSet;
import org.jspecify.annotations.Nullable;

/**
 * The conformance resources of {@code fhir-profiles}, each parsed when it is first asked for.
 * Answers are those of the library's own support for resources that were parsed before; a test
 * holds the one against the other.
 *
 * <p>Measures are kept from the validator on purpose: given one, it wants a value in every score,
 * and the score of a month without patient days has a reason in its place.
 */
final class OwnDefinitions implements IValidationSupport {
  private static final String STRUCTURE = "StructureDefinition";
  private static final String CODE_SYSTEM = "CodeSystem";
  private static final String VALUE_SET = "ValueSet";

  private final FhirContext fhir;
  private final Groundwork groundwork;

  /** By type and canonical URL, with the version and without. */
  private final Map<String, OwnFile> byCanonical = new HashMap<>();

  private final Map<OwnFile, IBaseResource> parsed = new ConcurrentHashMap<>();

  OwnDefinitions(FhirContext fhir, List<OwnFile> files, Groundwork groundwork) {
    this.fhir = fhir;
    this.groundwork = groundwork;
    for (OwnFile file : files) {
      byCanonical.put(key(file.type(), file.url()), file);
      byCanonical.put(key(file.type(), file.url() + "|" + file.version()), file);
    }
  }

  private static String key(String type, String canonical) {
    return type + " " + canonical;
  }

  /** The code systems and value sets that were asked for up to now. */
  List<MetadataResource> terminology() {
    return parsed.values().stream()
        .filter(one -> one instanceof CodeSystem || one instanceof ValueSet)
        .map(MetadataResource.class::cast)
        .toList();
  }

  @Override
  public FhirContext getFhirContext() {
    return fhir;
  }

  @Override
  public @Nullable IBaseResource fetchStructureDefinition(String url) {
    return fetch(STRUCTURE, url);
  }

  @Override
  public @Nullable IBaseResource fetchCodeSystem(String system) {
    return fetch(CODE_SYSTEM, system);
  }

  @Override
  public @Nullable IBaseResource fetchValueSet(String url) {
    return fetch(VALUE_SET, url);
  }

  @Override
  public boolean isCodeSystemSupported(ValidationSupportContext context, String system) {
    return byCanonical.containsKey(key(CODE_SYSTEM, system));
  }

  @Override
  public boolean isValueSetSupported(ValidationSupportContext context, String url) {
    return byCanonical.containsKey(key(VALUE_SET, url));
  }

  private @Nullable IBaseResource fetch(String type, String canonical) {
    OwnFile file = byCanonical.get(key(type, canonical));
    return file == null ? null : parsed.computeIfAbsent(file, this::parse);
  }

  private IBaseResource parse(OwnFile file) {
    IBaseResource ready = groundwork.terminology(file.type(), file.url());
    return ready == null ? file.parse(fhir) : ready;
  }
}
