package indwell.intake;

/** What became of an event. */
public enum Outcome {
  /** Stored durably, with its resources. */
  RECORDED("recorded"),
  /** That very version with the same content is there already. */
  DUPLICATE("duplicate"),
  /** That very version with other content is there. */
  CONFLICT("conflict"),
  /** A higher version is there already; this one is kept in the history. */
  SUPERSEDED("superseded"),
  /** Broken or impossible in itself. */
  REFUSED("refused"),
  /** The service's own fault; safe to send again. */
  FAILED("failed");

  private final String code;

  Outcome(String code) {
    this.code = code;
  }

  /** The code in the answer's {@code outcome} field. */
  public String code() {
    return code;
  }
}
