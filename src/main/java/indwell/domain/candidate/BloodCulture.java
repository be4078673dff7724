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

  /** Its bacteria that are among those of a urine culture; a screening specimen has none. */
  List<Organism> matching(List<Organism> urine) {
    return screening
        ? List.of()
        : organisms.stream()
            .filter(one -> one.kind() == OrganismKind.BACTERIUM)
            .filter(one -> urine.stream().anyMatch(other -> other.isNamed(one.name())))
            .toList();
  }
}
