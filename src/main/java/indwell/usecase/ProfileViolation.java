package indwell.usecase;

import indwell.port.ProfileValidator.Finding;
import indwell.port.ResourceKey;

/**
 * A resource that the service itself made does not meet its profile. The message names type, code
 * and place of the first finding, and nothing of the content.
 */
final class ProfileViolation extends RuntimeException {
  private static final long serialVersionUID = 1L;

  ProfileViolation(ResourceKey key, Finding finding) {
    super(
        key.type()
            + " does not meet its profile: "
            + finding.code()
            + " at "
            + finding.expression());
  }
}
