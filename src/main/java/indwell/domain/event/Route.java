package indwell.domain.event;

import java.util.Optional;

/**
 * Where the catheter enters the bladder. Only urethral catheters make catheter days (rule C1, C3).
 */
public enum Route {
  URETHRAL("urethral"),
  SUPRAPUBIC("suprapubic");

  private final String code;

  Route(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<Route> ofCode(String code) {
    return Coded.find(values(), Route::code, code);
  }
}
