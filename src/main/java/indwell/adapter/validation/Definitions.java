package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.context.support.IValidationSupport.IssueSeverity;
import java.time.Duration;
import java.util.List;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.InMemoryTerminologyServerValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.PrePopulatedValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.UnknownCodeSystemWarningValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain.CacheConfiguration;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.Measure;

/** Puts together everything that the validator looks things up in. Nothing of it uses a network. */
final class Definitions {
  /** Definitions never change while the service runs, so nothing looked up has to be dropped. */
  private static final Duration FOR_GOOD = Duration.ofDays(36_500);

  private static final int LOOK_UPS = 5_000;

  private Definitions() {}

  /** Our profiles over the base definitions, with a closed terminology. */
  @SuppressWarnings(
      "deprecation") // its successor wants a terminology server, and there is none here
  static ValidationSupportChain chain(
      FhirContext fhir, IValidationSupport base, List<IBaseResource> own) {
    // SNOMED CT and LOINC are not in the jar. A code of theirs passes unless a profile names
    // others.
    UnknownCodeSystemWarningValidationSupport foreign =
        new UnknownCodeSystemWarningValidationSupport(fhir);
    foreign.setNonExistentCodeSystemSeverity(IssueSeverity.INFORMATION);
    ValidationSupportChain chain =
        new ValidationSupportChain(
            CacheConfiguration.defaultValues().setCacheTimeout(FOR_GOOD).setCacheSize(LOOK_UPS),
            local(fhir, own),
            base,
            new CommonCodeSystemsTerminologyService(fhir),
            new InMemoryTerminologyServerValidationSupport(fhir),
            foreign);
    // A second coding beside the one that a binding asks for must not fail the binding.
    return chain.setCodeableConceptValidationSuccessfulIfNotAllCodingsAreValid(true);
  }

  /**
   * Our definitions. Measures are left out on purpose: given one, the validator wants a value in
   * every score, and the score of a month without patient days has a reason in its place.
   */
  private static IValidationSupport local(FhirContext fhir, List<IBaseResource> own) {
    PrePopulatedValidationSupport local = new PrePopulatedValidationSupport(fhir);
    own.stream().filter(one -> !(one instanceof Measure)).forEach(local::addResource);
    return local;
  }
}
