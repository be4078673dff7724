package indwell.adapter.validation;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * Writes a resource down with its leaves taken out. Values that stay are written with their length
 * before them, so that none can be taken for a leaf.
 */
final class ShapeText {
  private static final String NONE = "";

  /** An object or array that is open: the element that it is, and its {@code system} so far. */
  private static final class Open {
    private final String name;
    private String system = NONE;

    private Open(String name) {
      this.name = name;
    }
  }

  private final StringBuilder text = new StringBuilder(1024);
  private final Deque<Open> open = new ArrayDeque<>();
  private final Map<String, Integer> names = new HashMap<>();
  private final List<Long> times = new ArrayList<>();
  private String member = NONE;
  private String resourceType = NONE;

  void add(JsonToken token, JsonParser parser) throws IOException {
    switch (token) {
      case START_OBJECT, START_ARRAY -> {
        text.append(token == JsonToken.START_OBJECT ? '{' : '[');
        open.push(new Open(member));
      }
      case END_OBJECT, END_ARRAY -> {
        text.append(token == JsonToken.END_OBJECT ? '}' : ']');
        member = open.pop().name;
      }
      case FIELD_NAME -> {
        member = parser.currentName();
        exact('f', member);
      }
      case VALUE_STRING -> string(parser.getText());
      case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> number(parser.getText());
      default -> exact('v', parser.getText());
    }
  }

  private void string(String value) {
    Open at = Objects.requireNonNull(open.peek());
    if (open.size() == 1 && member.equals("resourceType")) {
      resourceType = value;
    }
    if (member.equals("system")) {
      at.system = value;
    }
    if (!leaf(at, value)) {
      exact('s', value);
    }
  }

  private boolean leaf(Open at, String value) {
    if (Leaf.TIMES.contains(member)) {
      return time(value);
    }
    return switch (member) {
      case "id" -> open.size() == 1 && Leaf.isId(value) && name('i', value);
      case "versionId" -> at.name.equals("meta") && Leaf.isId(value) && mark('i');
      case "value" ->
          isIdentifier(at) && Leaf.isIdentifierValue(at.system, value) && name('n', value);
      case "reference" -> reference(value);
      default -> false;
    };
  }

  private static boolean isIdentifier(Open at) {
    return at.name.equals("identifier") || at.name.equals("valueIdentifier");
  }

  private boolean time(String value) {
    OptionalLong nanos = LeafTime.nanos(value);
    if (nanos.isEmpty()) {
      return false;
    }
    times.add(nanos.getAsLong());
    text.append('t').append(Leaf.form(value)).append(';');
    return true;
  }

  private boolean reference(String value) {
    Optional<LeafReference> reference = LeafReference.of(value);
    if (reference.isEmpty()) {
      return false;
    }
    exact('r', reference.get().type());
    name('i', reference.get().id());
    text.append(reference.get().versioned() ? '+' : '-');
    return true;
  }

  /** Equal names have one number. */
  private boolean name(char kind, String value) {
    text.append(kind).append((int) names.computeIfAbsent(value, one -> names.size())).append(';');
    return true;
  }

  private boolean mark(char kind) {
    text.append(kind).append(';');
    return true;
  }

  private void number(String value) {
    boolean ofQuantity =
        member.equals("value") && Objects.requireNonNull(open.peek()).name.equals("valueQuantity");
    Optional<String> form = ofQuantity ? Leaf.number(value) : Optional.empty();
    form.ifPresentOrElse(known -> exact('q', known), () -> exact('v', value));
  }

  private void exact(char kind, String value) {
    text.append(kind).append(value.length()).append(':').append(value);
  }

  /** What the object at the root says that it is; empty when it does not. */
  String resourceType() {
    return resourceType;
  }

  /** The text, with the order of the times at its end. */
  String finished() {
    long[] ascending = times.stream().mapToLong(at -> at).sorted().distinct().toArray();
    for (long time : times) {
      text.append('<').append(Arrays.binarySearch(ascending, time));
    }
    return text.toString();
  }
}
