package indwell.intake;

import java.util.Map;
import java.util.Optional;

/**
 * An object of which one thing is made.
 *
 * @param expected what a sender should write
 * @param maker reads its fields; those that it does not ask for are told of
 */
record ObjectKind<T>(String expected, Maker<T> maker) implements FieldKind<T> {

  /** Makes a thing of the fields of an object; empty after a fault. */
  @FunctionalInterface
  interface Maker<T> {
    Optional<T> make(ObjectReader fields, Faults faults);
  }

  @Override
  public Optional<T> read(Object value, String path, Faults faults) {
    if (!(value instanceof Map<?, ?> fields)) {
      faults.wrongType(path, value, expected);
      return Optional.empty();
    }
    ObjectReader reader = ObjectReader.of(fields, path, faults);
    Optional<T> made = maker.make(reader, faults);
    reader.refuseUnknown();
    return made;
  }
}
