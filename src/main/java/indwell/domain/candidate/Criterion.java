package indwell.domain.candidate;

/** What a candidate meets, as far as it can be told without a person. */
public enum Criterion {
  /** Symptomatic, with a catheter, at any age. */
  SUTI_1A("SUTI-1a"),
  /** Symptomatic, not with a catheter, at any age. */
  SUTI_1B("SUTI-1b"),
  /** Symptomatic, at the age of 1 or less. */
  SUTI_2("SUTI-2"),
  /** Asymptomatic and bacteraemic, at any age. */
  ABUTI("ABUTI");

  private final String code;

  Criterion(String code) {
    this.code = code;
  }

  /** The word as answers carry it. */
  public String code() {
    return code;
  }
}
