package indwell.intake;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * Whether two canonical texts of events say the same. Texts are compared as they were sent, but for
 * times: these are compared as they are read, by the millisecond and the offset. One instant at two
 * offsets is told in two ways, and so is not the same.
 */
public final class SameContent {
  private static final Set<String> TIMES = Set.of("occurredAt", "from", "surgeryEndedAt");
  private static final Set<String> UTC = Set.of("Z", "z", "+00:00", "-00:00");

  private SameContent() {}

  /**
   * Compares two.
   *
   * @throws IllegalArgumentException if one is no canonical text
   */
  public static boolean of(String one, String other) {
    return one.equals(other) || read(one).equals(read(other));
  }

  private static Object read(String canonical) {
    byte[] bytes = canonical.getBytes(StandardCharsets.UTF_8);
    if (JsonGate.read(bytes, EventBodies.SINGLE) instanceof GateResult.Tree tree) {
      return read("", tree.root());
    }
    throw new IllegalArgumentException("A stored event is no JSON");
  }

  /** Recursion is safe: a checked event is four objects deep at most. */
  private static Object read(String name, Object value) {
    if (value instanceof Map<?, ?> fields) {
      Map<String, Object> read = new TreeMap<>();
      fields.forEach((field, one) -> read.put((String) field, read((String) field, one)));
      return read;
    }
    return value instanceof String text && TIMES.contains(name) ? time(text) : value;
  }

  private static Object time(String text) {
    Optional<Instant> instant = Rfc3339.read(text);
    return instant.isPresent() ? instant.get() + " at " + offset(text) : text;
  }

  private static String offset(String time) {
    boolean named = time.endsWith("Z") || time.endsWith("z");
    String offset = time.substring(time.length() - (named ? 1 : "+00:00".length()));
    return UTC.contains(offset) ? "Z" : offset;
  }
}
