package indwell.adapter.validation;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/**
 * The text of a resource with its leaves taken out. In place of each stands a control character,
 * which no JSON has, and what counts of the leaf, in which is no mark of JSON: so nothing that
 * stays can be taken for a leaf, and no leaf for a longer or shorter one.
 */
final class ShapeText {
  private static final String NONE = "";
  private static final char LEAF = 1;

  /**
   * The name of a member that an object has.
   *
   * @param from where it begins
   * @param to behind it
   * @param before the member that the object had before
   */
  private record Had(int from, int to, @Nullable Had before) {}

  /** An object or array that is open: the element that it is, and what it has had so far. */
  private static final class Open {
    private final @Nullable Open around;
    private final ShapeMember member;
    private String system = NONE;
    private @Nullable Had last;

    private Open(@Nullable Open around, ShapeMember member) {
      this.around = around;
      this.member = member;
    }
  }

  private final String json;
  private final StringBuilder text;

  /** Up to where all has been written down or replaced. */
  private int done;

  private final Map<String, Integer> names = new HashMap<>();
  private long[] times = new long[8];
  private int timesSeen;
  private @Nullable Open open;
  private ShapeMember member = ShapeMember.OTHER;

  ShapeText(String json) {
    this.json = json;
    this.text = new StringBuilder(json.length());
  }

  /** Of an object or an array. */
  void begin() {
    open = new Open(open, member);
  }

  /** Of the object or array that began last. */
  void end() {
    Open ended = innermost();
    member = ended.member;
    open = ended.around;
  }

  /**
   * What comes next is, or is within, the member of that name.
   *
   * @return whether it is the only one of that name so far; few objects have more than ten
   */
  boolean member(int from, int to) {
    Open object = innermost();
    for (Had had = object.last; had != null; had = had.before) {
      if (had.to - had.from == to - from && json.regionMatches(from, json, had.from, to - from)) {
        return false;
      }
    }
    object.last = new Had(from, to, object.last);
    member = ShapeMember.of(json.substring(from, to));
    return true;
  }

  private Open innermost() {
    return Objects.requireNonNull(open);
  }

  /** A string, without its quotes and as it is written: escaped ones are no leaves. */
  void string(int from, int to) {
    Open at = innermost();
    switch (member) {
      case TIME -> time(from, to);
      case ID -> id(at, from, to);
      case VERSION_ID -> versionId(at, from, to);
      case VALUE -> identifierValue(at, from, to);
      case REFERENCE -> reference(from, to);
      case SYSTEM -> at.system = json.substring(from, to);
      default -> {
        // Counts as it stands.
      }
    }
  }

  private void time(int from, int to) {
    String value = json.substring(from, to);
    OptionalLong nanos = LeafTime.nanos(value);
    if (nanos.isPresent()) {
      if (timesSeen == times.length) {
        times = Arrays.copyOf(times, 2 * timesSeen);
      }
      times[timesSeen++] = nanos.getAsLong();
      leaf('t', from, to).append(Leaf.form(value));
    }
  }

  private void id(Open at, int from, int to) {
    String value = json.substring(from, to);
    if (at.around == null && Leaf.isId(value)) {
      leaf('i', from, to).append(name(value));
    }
  }

  private void versionId(Open at, int from, int to) {
    if (at.member == ShapeMember.META && Leaf.isId(json.substring(from, to))) {
      leaf('i', from, to);
    }
  }

  private void identifierValue(Open at, int from, int to) {
    String value = json.substring(from, to);
    if (at.member == ShapeMember.IDENTIFIER && Leaf.isIdentifierValue(at.system, value)) {
      leaf('n', from, to).append(name(value));
    }
  }

  private void reference(int from, int to) {
    Optional<LeafReference> found = LeafReference.of(json.substring(from, to));
    if (found.isPresent()) {
      LeafReference reference = found.get();
      leaf('r', from, to)
          .append(reference.type())
          .append(name(reference.id()))
          .append(reference.versioned() ? '+' : '-');
    }
  }

  /** Equal names have one number. */
  private int name(String value) {
    return names.computeIfAbsent(value, one -> names.size());
  }

  /** A number as it is written. */
  void number(int from, int to) {
    if (member == ShapeMember.VALUE && innermost().member == ShapeMember.QUANTITY) {
      Leaf.number(json.substring(from, to)).ifPresent(form -> leaf('q', from, to).append(form));
    }
  }

  private StringBuilder leaf(char kind, int from, int to) {
    keepUntil(from);
    done = to;
    return text.append(LEAF).append(kind);
  }

  private void keepUntil(int end) {
    text.append(json, done, end);
  }

  /** The text, with the order of the times at its end. */
  String finished() {
    keepUntil(json.length());
    long[] ascending = Arrays.copyOf(times, timesSeen);
    Arrays.sort(ascending);
    for (int i = 0; i < timesSeen; i++) {
      text.append('<').append(Arrays.binarySearch(ascending, times[i]));
    }
    return text.toString();
  }
}
