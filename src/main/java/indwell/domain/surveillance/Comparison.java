package indwell.domain.surveillance;

/**
 * How an observed count stands to the predicted one.
 *
 * <p>Source: CMS Hospital Compare 2015, the three words of its comparison (published; rule S4).
 */
public enum Comparison {
  BETTER("better"),
  NO_DIFFERENT("no different"),
  WORSE("worse");

  private final String word;

  Comparison(String word) {
    this.word = word;
  }

  /** The word as answers carry it. */
  public String word() {
    return word;
  }

  /** Below or above 1 only when p is at most 0.05. */
  static Comparison of(double ratio, double p) {
    if (p > MidP.ALPHA) {
      return NO_DIFFERENT;
    }
    return ratio < 1 ? BETTER : WORSE;
  }
}
