package indwell.domain.surveillance;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * CAUTI that a person confirmed and attributed to the ward, by their dates of event (rule C32).
 *
 * @param count not negative
 * @param dates one for each event, ascending, two events of one date twice; empty when not told
 */
public record ConfirmedEvents(int count, Optional<List<LocalDate>> dates) {
  public ConfirmedEvents {
    dates = dates.map(given -> given.stream().sorted().toList());
    if (count < 0 || (dates.isPresent() && dates.get().size() != count)) {
      throw new IllegalArgumentException("Count " + count + " is not the number of " + dates);
    }
  }
}
