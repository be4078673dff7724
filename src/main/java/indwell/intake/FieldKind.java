package indwell.intake;

import java.util.Optional;

/**
 * What a field may hold.
 *
 * @param <T> what is made of it
 */
interface FieldKind<T> {

  /** What a sender should write, as the end of a sentence: {@code a whole number from 1 to 4}. */
  String expected();

  /**
   * Reads a value of a tree.
   *
   * @param path where it stands, for the faults
   * @return empty after a fault
   */
  Optional<T> read(Object value, String path, Faults faults);
}
