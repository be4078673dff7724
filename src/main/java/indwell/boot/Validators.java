package indwell.boot;

import indwell.adapter.validation.HapiProfileValidator;
import indwell.fhir.map.FhirJson;
import indwell.port.ProfileValidator;

/** Makes the validator that everything is validated with. */
public final class Validators {
  private Validators() {}

  /** One whose definitions are all prepared before the first call; making it takes seconds. */
  public static HapiProfileValidator warm() {
    HapiProfileValidator validator = hapi(Runtime.getRuntime().availableProcessors());
    validator.warmUp();
    return validator;
  }

  /**
   * One that prepares what it needs when it needs it: for a few files quicker than a warm one.
   *
   * @param threads that will use it at once
   */
  public static ProfileValidator open(int threads) {
    return hapi(threads);
  }

  private static HapiProfileValidator hapi(int threads) {
    return HapiProfileValidator.open(FhirJson.context(), threads);
  }
}
