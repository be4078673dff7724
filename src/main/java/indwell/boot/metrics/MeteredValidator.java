package indwell.boot.metrics;

import indwell.port.ProfileValidator;
import java.time.Duration;
import java.util.List;

/** Says of each validation how long it took. */
public final class MeteredValidator implements ProfileValidator {
  private final ProfileValidator validator;
  private final ServiceFigures figures;

  /** In front of a validator. */
  public MeteredValidator(ProfileValidator validator, ServiceFigures figures) {
    this.validator = validator;
    this.figures = figures;
  }

  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    long begun = System.nanoTime();
    List<Finding> findings = validator.validate(json, profiles);
    figures.validated(Duration.ofNanos(System.nanoTime() - begun));
    return findings;
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
