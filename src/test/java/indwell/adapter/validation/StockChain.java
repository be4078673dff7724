package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import ca.uhn.fhir.validation.FhirValidator;
import org.hl7.fhir.common.hapi.validation.validator.FhirInstanceValidator;
import org.hl7.fhir.r5.utils.validation.constants.BestPracticeWarningLevel;

/** The library's own module over the library's own definitions and our profiles. */
public final class StockChain {
  private StockChain() {}

  /** A validator as the library's documentation builds one, told what ours is told. */
  public static FhirValidator validator(FhirContext fhir) {
    FhirInstanceValidator module =
        new FhirInstanceValidator(
            Definitions.chain(
                fhir, new DefaultProfileValidationSupport(fhir), ProfileFiles.load(fhir)));
    module.setAnyExtensionsAllowed(true);
    module.setBestPracticeWarningLevel(BestPracticeWarningLevel.Ignore);
    module.setErrorForUnknownProfiles(true);
    module.setAllowExamples(true);
    module.setAssumeValidRestReferences(true);
    return fhir.newValidator().registerValidatorModule(module);
  }
}
