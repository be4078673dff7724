package indwell.adapter.validation;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.context.support.LookupCodeRequest;
import ca.uhn.fhir.context.support.ValidationSupportContext;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import org.fhir.ucum.UcumEssenceService;
import org.fhir.ucum.UcumException;
import org.hl7.fhir.common.hapi.validation.support.CommonCodeSystemsTerminologyService;
import org.jspecify.annotations.Nullable;

/**
 * The library's terminology of codes that are made by rules, with the units of UCUM read once: the
 * library reads all of UCUM for each unit that it has not seen yet.
 */
final class KeptUnits extends CommonCodeSystemsTerminologyService {
  private @Nullable UcumEssenceService units;

  KeptUnits(FhirContext fhir) {
    super(fhir);
  }

  @Override
  public @Nullable LookupCodeResult lookupCode(
      ValidationSupportContext context, LookupCodeRequest request) {
    return UCUM_CODESYSTEM_URL.equals(request.getSystem())
        ? unit(request.getCode())
        : super.lookupCode(context, request);
  }

  private synchronized LookupCodeResult unit(String code) {
    LookupCodeResult result = new LookupCodeResult();
    result.setSearchedForCode(code);
    result.setSearchedForSystem(UCUM_CODESYSTEM_URL);
    try {
      result.setCodeDisplay(units().analyse(code));
      result.setFound(true);
    } catch (UcumException unknown) {
      result.setErrorMessage(unknown.getMessage());
    }
    return result;
  }

  private UcumEssenceService units() throws UcumException {
    if (units == null) {
      try (InputStream in = KeptUnits.class.getResourceAsStream("/ucum-essence.xml")) {
        units = new UcumEssenceService(in);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return units;
  }
}
