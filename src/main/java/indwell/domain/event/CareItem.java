package indwell.domain.event;

import java.util.Optional;

/** What a care check looks at. */
public enum CareItem {
  BAG_BELOW_BLADDER("bag-below-bladder"),
  BAG_OFF_FLOOR("bag-off-floor"),
  NO_DEPENDENT_LOOP("no-dependent-loop"),
  CLOSED_SYSTEM("closed-system"),
  SECUREMENT_INTACT("securement-intact"),
  MEATAL_HYGIENE("meatal-hygiene");

  private final String code;

  CareItem(String code) {
    this.code = code;
  }

  /** The code on the wire. */
  public String code() {
    return code;
  }

  /** The constant with that wire code; empty when there is none. */
  public static Optional<CareItem> ofCode(String code) {
    return Coded.find(values(), CareItem::code, code);
  }
}
