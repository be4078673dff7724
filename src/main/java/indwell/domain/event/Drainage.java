package indwell.domain.event;

import java.util.Optional;

/**
 * What the catheter drains into. Without a bag it is no indwelling catheter in the sense of
 * surveillance (rule C1, C6).
 */
public enum Drainage {
  BAG("bag"),
  NONE("none");

  private final String code;

  Drainage(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<Drainage> ofCode(String code) {
    return Coded.find(values(), Drainage::code, code);
  }
}
