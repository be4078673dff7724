package indwell.domain.candidate;

import java.time.LocalDate;
import java.util.List;

/**
 * A urinary event that stands already: one that a person confirmed, or an earlier candidate of the
 * same question.
 *
 * @param organisms their names
 */
public record EarlierEvent(LocalDate dateOfEvent, List<String> organisms) {
  public EarlierEvent {
    organisms = List.copyOf(organisms);
  }

  /** Those of the organisms that it does not name yet. */
  List<Organism> without(List<Organism> found) {
    return found.stream().filter(one -> organisms.stream().noneMatch(one::isNamed)).toList();
  }
}
