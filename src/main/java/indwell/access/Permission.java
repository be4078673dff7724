package indwell.access;

import java.util.Arrays;
import java.util.Optional;

/** What can be done with resources of a type, in the order in which SMART writes the letters. */
public enum Permission {
  CREATE('c'),
  READ('r'),
  UPDATE('u'),
  DELETE('d'),
  /** Search, and history of the whole type. */
  SEARCH('s');

  private final char letter;

  Permission(char letter) {
    this.letter = letter;
  }

  /** The letter in a scope. */
  public char letter() {
    return letter;
  }

  static Optional<Permission> of(int letter) {
    return Arrays.stream(values()).filter(one -> one.letter == letter).findFirst();
  }
}
