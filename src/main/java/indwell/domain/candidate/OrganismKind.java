package indwell.domain.candidate;

import java.util.Optional;

/** What sort of organism a laboratory names; only a bacterium can make a urine culture usable. */
public enum OrganismKind {
  BACTERIUM("bacterium"),
  CANDIDA("candida"),
  /** A yeast not otherwise specified. */
  YEAST("yeast"),
  MOULD("mould"),
  DIMORPHIC_FUNGUS("dimorphic-fungus"),
  PARASITE("parasite"),
  /** "Mixed flora" in any wording: it stands for at least two organisms. */
  MIXED_FLORA("mixed-flora");

  private final String code;

  OrganismKind(String code) {
    this.code = code;
  }

  /** The word as requests carry it. */
  public String code() {
    return code;
  }

  /** The kind with that word. */
  public static Optional<OrganismKind> ofCode(String code) {
    for (OrganismKind kind : values()) {
      if (kind.code.equals(code)) {
        return Optional.of(kind);
      }
    }
    return Optional.empty();
  }
}
