package indwell.domain.candidate;

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
}
