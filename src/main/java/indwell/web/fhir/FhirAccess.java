package indwell.web.fhir;

import indwell.access.Caller;
import indwell.access.Need;
import indwell.web.access.Denial;
import java.util.List;

/** Lets a caller do what it may, and refuses the rest. */
final class FhirAccess {
  private FhirAccess() {}

  /**
   * Requires that the caller has been given all that is needed.
   *
   * @throws FhirRefusal 401 for one whom nobody vouches for, 403 for one who lacks something
   */
  static void require(Caller caller, List<Need> needs) {
    Denial.of(caller.decide(needs))
        .ifPresent(
            denial -> {
              throw FhirRefusal.of(denial);
            });
  }
}
