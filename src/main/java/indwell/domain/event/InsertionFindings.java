package indwell.domain.event;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What was found and done at an insertion beside its steps.
 *
 * @param balloonFilledMl volume in mL put into the balloon
 * @param urineReturnedMl urine in mL that drained at once
 * @param specimenTaken whether a sample was taken at the insertion; empty when not stated
 * @param attempts number of attempts, 1 to 20
 * @param insertedBeforeAdmission whether it was put in before the stay; empty when not stated
 */
public record InsertionFindings(
    Optional<BigDecimal> balloonFilledMl,
    Optional<BigDecimal> urineReturnedMl,
    Optional<Boolean> specimenTaken,
    OptionalInt attempts,
    Optional<Boolean> insertedBeforeAdmission) {}
