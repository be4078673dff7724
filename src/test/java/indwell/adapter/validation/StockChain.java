package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import ca.uhn.fhir.context.support.IValidationSupport;
import ca.uhn.fhir.validation.FhirValidator;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.hl7.fhir.common.hapi.validation.support.PrePopulatedValidationSupport;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.r4.model.Measure;
import org.hl7.fhir.r5.utils.validation.constants.BestPracticeWarningLevel;

/** The library's own module over the library's own definitions and our profiles. */
public final class StockChain {
  private StockChain() {}

  /** A validator as the library's documentation builds one, told what ours is told. */
  public static FhirValidator validator(FhirContext fhir) {
    FhirInstanceValidator module =
        new FhirInstanceValidator(
            Definitions.chain(
                fhir,
                new DefaultProfileValidationSupport(fhir),
                own(fhir),
                new CommonCodeSystemsTerminologyService(fhir)));
    module.setAnyExtensionsAllowed(true);
    module.setBestPracticeWarningLevel(BestPracticeWarningLevel.Ignore);
    module.setErrorForUnknownProfiles(true);
    module.setAllowExamples(true);
    module.setAssumeValidRestReferences(true);
    return fhir.newValidator().registerValidatorModule(module);
  }

  /**
   * Our definitions. Measures are left out on purpose: given one, the validator wants a value in
   * every score, and the score of a month without patient days has a reason in its place.
   */
  private static IValidationSupport own(FhirContext fhir) {
    PrePopulatedValidationSupport own = new PrePopulatedValidationSupport(fhir);
    ProfileFiles.load(fhir).stream()
        .filter(one -> !(one instanceof Measure))
        .forEach(own::addResource);
    return own;
  }
}
