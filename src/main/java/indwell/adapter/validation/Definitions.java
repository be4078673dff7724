package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.context.support.IValidationSupport.IssueSeverity;
import java.time.Duration;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.InMemoryTerminologyServerValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.UnknownCodeSystemWarningValidationSupport;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain;
import org.hl7.fhir.common.hapi.validation.support.ValidationSupportChain.CacheConfiguration;

/** Puts together everything that the validator looks things up in. Nothing of it uses a network. */
final class Definitions {
  /** Definitions never change while the service runs, so nothing looked up has to be dropped. */
  private static final Duration FOR_GOOD = Duration.ofDays(36_500);

  private static final int LOOK_UPS = 5_000;

  private Definitions() {}

  /** Our profiles over the base definitions, with a closed terminology. */
  static ValidationSupportChain chain(
      FhirContext fhir, IValidationSupport base, IValidationSupport own) {
    return chain(fhir, base, own, new KeptUnits(fhir));
  }

  /**
   * The same with other parts.
   *
   * @param rules codes that are made by rules
   */
  @SuppressWarnings(
      "deprecation") // its successor wants a terminology server, and there is none here
  static ValidationSupportChain chain(
      FhirContext fhir,
      IValidationSupport base,
      IValidationSupport own,
      CommonCodeSystemsTerminologyService rules) {
    // SNOMED CT and LOINC are not in the jar. A code of theirs passes unless a profile names
    // others.
    UnknownCodeSystemWarningValidationSupport foreign =
        new UnknownCodeSystemWarningValidationSupport(fhir);
    foreign.setNonExistentCodeSystemSeverity(IssueSeverity.INFORMATION);
    ValidationSupportChain chain =
        new ValidationSupportChain(
            CacheConfiguration.defaultValues().setCacheTimeout(FOR_GOOD).setCacheSize(LOOK_UPS),
            own,
            base,
            rules,
            new InMemoryTerminologyServerValidationSupport(fhir),
            foreign);
    // A second coding beside the one that a binding asks for must not fail the binding.
    return chain.setCodeableConceptValidationSuccessfulIfNotAllCodingsAreValid(true);
  }
}
