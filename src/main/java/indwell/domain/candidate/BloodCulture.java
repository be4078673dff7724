package indwell.domain.candidate;

import java.time.LocalDate;
import java.util.List;

/**
 * A blood specimen and what was found in it, by culture or by another test.
 *
 * @param collectedOn local date of the collection
 * @param screening whether it was taken for surveillance screening, not for diagnosis or treatment
 */
public record BloodCulture(LocalDate collectedOn, List<Organism> organisms, boolean screening) {
  public BloodCulture {
    organisms = List.copyOf(organisms);
  }

  /**
   * What of it is among those of a urine culture; a screening specimen has none.
   *
   * @param pathogens bacteria all of them, so that a yeast never matches (rule P11)
   */
  List<Organism> matching(List<Organism> pathogens) {
    return screening
        ? List.of()
        : organisms.stream()
            .filter(one -> pathogens.stream().anyMatch(other -> other.isNamed(one.name())))
            .toList();
  }
}
