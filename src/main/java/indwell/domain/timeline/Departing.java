package indwell.domain.timeline;

import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Ward;
import java.util.Optional;

/**
 * The patient leaves by a discharge.
 *
 * @param ward the one that the patient leaves; empty for one who was in none
 * @param overruled an earlier discharge of the same stay at the same instant, which does not count
 *     any more
 */
record Departing(Discharge by, Optional<Ward> ward, Optional<Discharge> overruled) {}
