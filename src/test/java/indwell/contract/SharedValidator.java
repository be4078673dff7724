package indwell.contract;

import indwell.adapter.validation.HapiProfileValidator;
import indwell.boot.Validators;

/** One validator for all tests that want verdicts and nothing of the validator itself. */
public final class SharedValidator {
  /** Its definitions are prepared; any number of threads may use it. */
  public static final HapiProfileValidator WARM = Validators.warm();

  private SharedValidator() {}
}
