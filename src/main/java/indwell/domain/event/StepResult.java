package indwell.domain.event;

import java.util.Optional;

/** What became of a step of the insertion. */
public enum StepResult {
  DONE("done"),
  NOT_DONE("not-done"),
  NOT_APPLICABLE("not-applicable");

  private final String code;

  StepResult(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<StepResult> ofCode(String code) {
    return Coded.find(values(), StepResult::code, code);
  }
}
