package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.context.support.ValidationSupportContext;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hl7.fhir.instance.model.api.IBaseResource;
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
  private final FhirContext fhir;
  private final Groundwork groundwork;

  /** By type and canonical URL, with the version and without. */
  private final Map<String, OwnFile> byCanonical = new HashMap<>();

  private final Map<OwnFile, IBaseResource> parsed = new ConcurrentHashMap<>();

  OwnDefinitions(FhirContext fhir, List<OwnFile> files, Groundwork groundwork) {
    this.fhir = fhir;
    this.groundwork = groundwork;
    for (OwnFile file : files) {
      byCanonical.put(Groundwork.key(file.type(), file.url()), file);
      byCanonical.put(Groundwork.key(file.type(), file.url() + "|" + file.version()), file);
    }
  }

  /** Those that were asked for up to now. */
  Collection<IBaseResource> asked() {
    return parsed.values();
  }

  @Override
  public FhirContext getFhirContext() {
    return fhir;
  }

  @Override
  public @Nullable IBaseResource fetchStructureDefinition(String url) {
    return fetch(BaseDefinitions.STRUCTURE, url);
  }

  @Override
  public @Nullable IBaseResource fetchCodeSystem(String system) {
    return fetch(BaseDefinitions.CODE_SYSTEM, system);
  }

  @Override
  public @Nullable IBaseResource fetchValueSet(String url) {
    return fetch(BaseDefinitions.VALUE_SET, url);
  }

  @Override
  public boolean isCodeSystemSupported(ValidationSupportContext context, String system) {
    return byCanonical.containsKey(Groundwork.key(BaseDefinitions.CODE_SYSTEM, system));
  }

  @Override
  public boolean isValueSetSupported(ValidationSupportContext context, String url) {
    return byCanonical.containsKey(Groundwork.key(BaseDefinitions.VALUE_SET, url));
  }

  private @Nullable IBaseResource fetch(String type, String canonical) {
    OwnFile file = byCanonical.get(Groundwork.key(type, canonical));
    return file == null ? null : parsed.computeIfAbsent(file, this::parse);
  }

  private IBaseResource parse(OwnFile file) {
    IBaseResource ready = groundwork.terminology(file.type(), file.url());
    return ready == null ? file.parse(fhir) : ready;
  }
}
