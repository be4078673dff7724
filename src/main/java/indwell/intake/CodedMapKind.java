package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * An object whose names are codes: the steps of an insertion, the items of a care check.
 *
 * @param what a word for its entries: {@code step}
 */
record CodedMapKind<K extends Enum<K>, V>(
    String what, Class<K> type, CodeKind<K> keys, FieldKind<V> values)
    implements FieldKind<Map<K, V>> {

  @Override
  public String expected() {
    return "an object from " + what + " codes to " + values.expected();
  }

  @Override
  public Optional<Map<K, V>> read(Object value, String path, Faults faults) {
    if (!(value instanceof Map<?, ?> entries)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    Map<K, V> read = new EnumMap<>(type);
    entries.forEach((name, entry) -> readEntry((String) name, entry, path, faults, read));
    return Optional.of(read);
  }

  private void readEntry(String name, Object entry, String path, Faults faults, Map<K, V> read) {
    String entryPath = path + "." + Quoted.name(name);
    Optional<K> key = keys.find(name);
    if (key.isEmpty()) {
      faults.add(
          IssueCode.UNKNOWN_CODE,
          entryPath,
          "Code %s of field %s is no %s; expected %s."
              .formatted(Quoted.text(name), path, what, keys.expected()));
    }
    Optional<V> result = values.read(entry, entryPath, faults);
    if (key.isPresent() && result.isPresent()) {
      read.put(key.get(), result.get());
    }
  }
}
