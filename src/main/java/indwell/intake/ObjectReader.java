package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads one object field by field and knows afterwards which of its fields nobody asked for. */
final class ObjectReader {
  private final Map<?, ?> fields;
  private final String path;
  private final Faults faults;
  private final boolean mayLack;
  private final Set<String> known = new LinkedHashSet<>();

  private ObjectReader(Map<?, ?> fields, String path, Faults faults, boolean mayLack) {
    this.fields = fields;
    this.path = path;
    this.faults = faults;
    this.mayLack = mayLack;
  }

  /** A reader of an object at {@code path}; the empty path is the event itself. */
  static ObjectReader of(Map<?, ?> fields, String path, Faults faults) {
    return new ObjectReader(fields, path, faults, false);
  }

  boolean has(String name) {
    return fields.containsKey(name);
  }

  /** Says that the field may be there, without looking at it. */
  void knows(String name) {
    known.add(name);
  }

  <T> Optional<T> required(String name, FieldKind<T> kind) {
    if (!has(name)) {
      requirePresent(name, kind.expected());
    }
    return optional(name, kind);
  }

  <T> Optional<T> optional(String name, FieldKind<T> kind) {
    known.add(name);
    Object value = fields.get(name);
    return value == null ? Optional.empty() : kind.read(value, pathOf(name), faults);
  }

  /** As {@link #required} under a condition, else as {@link #optional}. */
  <T> Optional<T> requiredIf(boolean condition, String name, FieldKind<T> kind) {
    return condition ? required(name, kind) : optional(name, kind);
  }

  /** A required object inside this one, as lenient as this one. */
  Optional<ObjectReader> object(String name) {
    requirePresent(name, "an object");
    return Optional.ofNullable(fields.get(name)).flatMap(value -> inner(name, value, mayLack));
  }

  /**
   * An object inside this one that reads as an empty one when it is left out.
   *
   * @param innerMayLack whether its own required fields may be left out
   */
  Optional<ObjectReader> objectOrEmpty(String name, boolean innerMayLack) {
    known.add(name);
    Object value = fields.get(name);
    return inner(name, value == null ? Map.of() : value, innerMayLack);
  }

  private Optional<ObjectReader> inner(String name, Object value, boolean innerMayLack) {
    if (value instanceof Map<?, ?> inner) {
      return Optional.of(new ObjectReader(inner, pathOf(name), faults, innerMayLack));
    }
    faults.wrongType(pathOf(name), value, "an object");
    return Optional.empty();
  }

  /** Tells of a field that is left out, unless this reader is lenient. */
  void requirePresent(String name, String expected) {
    known.add(name);
    if (!has(name) && !mayLack) {
      faults.missing(pathOf(name), expected);
    }
  }

  /** Tells of every field that was not asked for; called when all have been. */
  void refuseUnknown() {
    for (Object name : fields.keySet()) {
      if (!known.contains(name)) {
        String at = pathOf(Quoted.name((String) name));
        faults.add(
            IssueCode.UNKNOWN_FIELD,
            at,
            "Field " + at + " is unknown; expected only " + String.join(", ", known) + ".");
      }
    }
  }

  String pathOf(String name) {
    return path.isEmpty() ? name : path + "." + name;
  }
}
