package indwell.adapter.validation;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/** What the name of a member says of the leaves that it may be or hold. */
enum ShapeMember {
  /** Of type dateTime or instant, as far as our resources have them. */
  TIME(
      "effectiveDateTime",
      "performedDateTime",
      "occurredDateTime",
      "collectedDateTime",
      "valueDateTime",
      "recorded",
      "start",
      "end",
      "lastUpdated"),
  ID("id"),
  VERSION_ID("versionId"),
  VALUE("value"),
  REFERENCE("reference"),
  SYSTEM("system"),
  META("meta"),
  IDENTIFIER("identifier", "valueIdentifier"),
  QUANTITY("valueQuantity"),
  OTHER;

  private record Named(String name, ShapeMember member) {}

  private static final int LONGEST = 17;

  /** By their length, as most members of a resource are then told apart by their first letter. */
  private static final List<List<Named>> NAMES =
      IntStream.rangeClosed(0, LONGEST).mapToObj(ShapeMember::ofLength).toList();

  private final List<String> names;

  ShapeMember(String... names) {
    this.names = List.of(names);
  }

  private static List<Named> ofLength(int length) {
    List<Named> found = new ArrayList<>();
    for (ShapeMember member : values()) {
      for (String name : member.names) {
        if (name.length() == length) {
          found.add(new Named(name, member));
        }
      }
    }
    return List.copyOf(found);
  }

  /** The one whose name is that part of the text. */
  static ShapeMember of(String json, int from, int to) {
    if (to - from <= LONGEST) {
      for (Named one : NAMES.get(to - from)) {
        if (json.startsWith(one.name, from)) {
          return one.member;
        }
      }
    }
    return OTHER;
  }
}
