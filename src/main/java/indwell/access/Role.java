package indwell.access;

import java.util.Arrays;
import java.util.Optional;

/** What a person is in the house, as the issuer says. */
public enum Role {
  /** Reads the pages and records at the bedside. */
  NURSE("nurse"),
  /** Reads the pages and the reports, and keeps the facts of surveillance. */
  PREVENTIONIST("preventionist");

  private final String code;

  Role(String code) {
    this.code = code;
  }

  /** Its name in a token. */
  public String code() {
    return code;
  }

  /** The role of that name. */
  public static Optional<Role> of(String code) {
    return Arrays.stream(values()).filter(one -> one.code.equals(code)).findFirst();
  }
}
