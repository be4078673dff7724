package indwell.intake;

import java.util.Optional;

/** {@code true} or {@code false}, and no text or number that somebody may take for one of them. */
record BooleanKind() implements FieldKind<Boolean> {

  @Override
  public String expected() {
    return "true or false";
  }

  @Override
  public Optional<Boolean> read(Object value, String path, Faults faults) {
    if (value instanceof Boolean answer) {
      return Optional.of(answer);
    }
    faults.wrongType(path, value, expected());
    return Optional.empty();
  }
}
