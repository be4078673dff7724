package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A list of things of one kind.
 *
 * @param noun what they are, as a sentence names many: {@code cultures}
 * @param most how many they may be
 */
record ListKind<T>(String noun, int most, FieldKind<T> element) implements FieldKind<List<T>> {

  @Override
  public String expected() {
    return "a list of at most " + most + " " + noun;
  }

  @Override
  public Optional<List<T>> read(Object value, String path, Faults faults) {
    if (!(value instanceof List<?> values)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    if (values.size() > most) {
      faults.add(
          IssueCode.TOO_MANY_ITEMS,
          path,
          "Field %s has %d %s; expected at most %d.".formatted(path, values.size(), noun, most));
      return Optional.empty();
    }
    List<T> all = new ArrayList<>();
    for (int i = 0; i < values.size(); i++) {
      element.read(values.get(i), path + "[" + i + "]", faults).ifPresent(all::add);
    }
    return all.size() == values.size() ? Optional.of(all) : Optional.empty();
  }
}
