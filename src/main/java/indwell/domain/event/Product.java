package indwell.domain.event;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * The catheter as a product: what its package says.
 *
 * @param sizeCh outer diameter in Charrière (French), 6 to 30; 1 Ch is a third of a millimetre
 * @param balloonLabelMl volume in mL that the label says to put into the balloon
 * @param material material in the sender's words
 * @param lumens number of lumens, 1 to 4
 * @param lotNumber lot number as printed
 * @param udi unique device identifier as printed
 * @param maxDwellDays longest dwell by the maker's instructions, in calendar days with the
 *     insertion day as day 1
 */
public record Product(
    int sizeCh,
    Optional<BigDecimal> balloonLabelMl,
    Optional<String> material,
    OptionalInt lumens,
    Optional<String> lotNumber,
    Optional<String> udi,
    OptionalInt maxDwellDays) {}
