package indwell.intake;

import indwell.domain.event.Indication;
import indwell.domain.event.StatedIndication;
import java.util.Optional;

/** Reads {@code indication} and {@code indicationText}, which {@code other} cannot do without. */
final class IndicationReader {
  private static final String CODE = "indication";
  private static final String TEXT = "indicationText";

  private IndicationReader() {}

  static Optional<StatedIndication> read(ObjectReader details, boolean required) {
    Optional<Indication> code = details.requiredIf(required, CODE, Kinds.INDICATION);
    if (code.filter(Indication.OTHER::equals).isPresent()) {
      details.requirePresent(TEXT, Kinds.LONG_TEXT.expected() + " for the indication other");
    }
    Optional<String> text = details.optional(TEXT, Kinds.LONG_TEXT);
    return code.map(stated -> new StatedIndication(stated, text));
  }
}
