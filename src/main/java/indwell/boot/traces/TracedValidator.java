package indwell.boot.traces;

import indwell.port.ProfileValidator;
import indwell.port.trace.Errand;
import java.util.List;

/** Each validation as a part of the errand that it is done for. */
final class TracedValidator implements ProfileValidator {
  private final ProfileValidator validator;

  TracedValidator(ProfileValidator validator) {
    this.validator = validator;
  }

  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    return Errand.part("resource.validate", () -> validator.validate(json, profiles));
  }

  @Override
  public boolean knows(String profile) {
    return validator.knows(profile);
  }

  @Override
  public boolean ready() {
    return validator.ready();
  }
}
