package indwell.domain.candidate;

import java.time.LocalDate;
import java.util.List;

/**
 * A urine culture.
 *
 * @param collectedOn local date of the collection
 * @param growth what grew; empty for nothing
 */
public record UrineCulture(LocalDate collectedOn, List<Growth> growth) {
  public UrineCulture {
    growth = List.copyOf(growth);
  }
}
