package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Whether a urine culture can be used: no more than two organisms and at least one of them a
 * bacterium with certainly 100,000 CFU/mL or more. Candida, yeasts, moulds, dimorphic fungi and
 * parasites may be the other one. Mixed flora makes it useless.
 *
 * <p>Rule CULTURE-1. Source: NHSN manual chapter 7, Table 1 (rules U9, restated; U11, U16, from
 * memory); CDC, NHSN FAQs: UTI (rules U7, U8; published); excluded organisms (rule U10; published).
 */
public final class UsableCulture {
  /** Organisms in one culture. */
  public static final int MOST_ORGANISMS = 2;

  private UsableCulture() {}

  /** The bacteria that make the culture usable; empty when it is not. */
  public static Ruled<List<Organism>> pathogens(UrineCulture culture) {
    List<Organism> organisms = distinct(culture.growth().stream().map(Growth::organism).toList());
    Optional<String> fault = fault(culture, organisms);
    List<Organism> pathogens =
        fault.isPresent()
            ? List.of()
            : distinct(
                culture.growth().stream()
                    .filter(Growth::isPathogen)
                    .map(Growth::organism)
                    .toList());
    String finding =
        fault
            .map(why -> "The culture of " + culture.collectedOn() + " is not usable: " + why)
            .orElseGet(
                () -> "The culture of " + culture.collectedOn() + " is usable: " + grown(culture));
    return Ruled.of(pathogens, RuleId.CULTURE_1, finding + ".");
  }

  private static Optional<String> fault(UrineCulture culture, List<Organism> organisms) {
    if (organisms.isEmpty()) {
      return Optional.of("nothing grew");
    }
    if (organisms.stream().anyMatch(one -> one.kind() == OrganismKind.MIXED_FLORA)) {
      return Optional.of("mixed flora stands for more than two organisms");
    }
    if (organisms.size() > MOST_ORGANISMS) {
      return Optional.of("it has " + organisms.size() + " organisms, and at most 2 may be there");
    }
    if (organisms.stream().noneMatch(one -> one.kind() == OrganismKind.BACTERIUM)) {
      return Optional.of("no bacterium is among " + grown(culture));
    }
    return culture.growth().stream().anyMatch(Growth::isPathogen)
        ? Optional.empty()
        : Optional.of(tooFew(culture) + " in " + grown(culture));
  }

  private static String tooFew(UrineCulture culture) {
    boolean uncertain =
        culture.growth().stream()
            .filter(one -> one.organism().kind() == OrganismKind.BACTERIUM)
            .flatMap(one -> one.count().stream())
            .anyMatch(ColonyCount::isUncertain);
    return uncertain
        ? "the laboratory has not said that it is 100000 CFU/mL or more of a bacterium"
        : "no bacterium has 100000 CFU/mL or more";
  }

  private static String grown(UrineCulture culture) {
    return culture.growth().stream().map(Growth::words).collect(Collectors.joining(", "));
  }

  private static List<Organism> distinct(List<Organism> organisms) {
    List<Organism> distinct = new ArrayList<>();
    for (Organism organism : organisms) {
      if (distinct.stream().noneMatch(one -> one.isNamed(organism.name()))) {
        distinct.add(organism);
      }
    }
    return distinct;
  }
}
