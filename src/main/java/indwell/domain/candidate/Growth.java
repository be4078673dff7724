package indwell.domain.candidate;

import java.util.Optional;

/**
 * One line of a urine culture's result.
 *
 * @param count empty when the laboratory gave none
 */
public record Growth(Organism organism, Optional<ColonyCount> count) {
  /** Whether it is what a usable culture needs: a bacterium, certainly with enough of it. */
  boolean isPathogen() {
    return organism.kind() == OrganismKind.BACTERIUM
        && count.filter(ColonyCount::isEnough).isPresent();
  }

  String words() {
    return organism.name()
        + " ("
        + organism.kind().code()
        + ", "
        + count.map(ColonyCount::words).orElse("no count")
        + ")";
  }
}
