package indwell.web.health;

import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.inject.Inject;
import org.eclipse.microprofile.health.HealthCheck;
import org.eclipse.microprofile.health.HealthCheckResponse;
import org.eclipse.microprofile.health.Readiness;

/** Ready is only who can take events and validate them at full speed. */
@Readiness
@ApplicationScoped
public class ReadyCheck implements HealthCheck {
  private final ClinicalStore store;
  private final ProfileValidator validator;

  @Inject
  ReadyCheck(ClinicalStore store, ProfileValidator validator) {
    this.store = store;
    this.validator = validator;
  }

  @Override
  public HealthCheckResponse call() {
    // Asked first: whoever asks for more waits with the others.
    boolean crowded = store.crowded();
    boolean storeAvailable = !crowded && store.available();
    boolean validatorWarm = validator.ready();
    return HealthCheckResponse.named("events")
        .withData("store", storeAvailable ? "available" : crowded ? "crowded" : "away")
        .withData("validator", validatorWarm ? "warm" : "warming up")
        .status(storeAvailable && validatorWarm)
        .build();
  }
}
