package indwell.domain.candidate;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * An organism as a laboratory names it. Two names are one organism when they are spelt alike, case
 * and spacing aside; nothing else is compared, so two susceptibility patterns are one organism.
 *
 * @param name as the laboratory writes it
 */
public record Organism(String name, OrganismKind kind) {
  /** Words that name no bacterium; the last six genera are excluded for any event (rule P13). */
  private static final Set<String> NO_BACTERIA =
      Set.of(
          "candida",
          "yeast",
          "yeasts",
          "blastomyces",
          "histoplasma",
          "coccidioides",
          "paracoccidioides",
          "cryptococcus",
          "pneumocystis");

  /** Whether both are spelt alike, case and spacing aside. */
  public boolean isNamed(String other) {
    return words(name).equals(words(other));
  }

  /** Whether the name says that it is another kind than the one stated. */
  public boolean contradictsItself() {
    List<String> words = words(name);
    boolean mixed = words.contains("mixed") && words.contains("flora");
    return mixed
        ? kind != OrganismKind.MIXED_FLORA
        : kind == OrganismKind.BACTERIUM && words.stream().anyMatch(NO_BACTERIA::contains);
  }

  private static List<String> words(String name) {
    return Arrays.asList(name.strip().toLowerCase(Locale.ROOT).split("[\\s\\p{Z}]+"));
  }
}
