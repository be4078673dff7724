package indwell.boot;

import indwell.adapter.validation.HapiProfileValidator;
import indwell.fhir.map.FhirJson;
import indwell.port.ProfileValidator;

/** Makes the validator that everything is validated with. */
public final class Validators {
  private Validators() {}

  /** One that validates at full speed from the first call on; making it takes seconds. */
  public static ProfileValidator warm() {
    HapiProfileValidator validator =
        HapiProfileValidator.open(FhirJson.context(), Runtime.getRuntime().availableProcessors());
    validator.warmUp();
    return validator;
  }
}
