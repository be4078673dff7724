package indwell.intake;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** An object or array whose end has not come yet. */
final class TreeFrame {
  /** Steps of a path that are shown; a hostile body must not make long paths by the thousand. */
  private static final int SHOWN_STEPS = 32;

  private final boolean array;
  private final Map<String, Object> fields;
  private final List<Object> items;
  private String name = "";
  private boolean nameIsNew = true;

  TreeFrame(boolean array) {
    this.array = array;
    this.fields = array ? Map.of() : new LinkedHashMap<>();
    this.items = array ? new ArrayList<>() : List.of();
  }

  Object container() {
    return array ? items : fields;
  }

  /** The name of the value that is being read; nothing in an array. */
  String name() {
    return name;
  }

  /** Takes the name of the next value; false when the object has it already. */
  boolean expect(String next) {
    name = next;
    nameIsNew = !fields.containsKey(next);
    return nameIsNew;
  }

  void add(Object value) {
    if (array) {
      items.add(value);
    } else {
      fields.put(name, nameIsNew ? value : JsonMarker.NAMED_TWICE);
    }
  }

  /** The place of the value that is being read, outermost frame first. */
  static String path(List<TreeFrame> frames) {
    StringBuilder path = new StringBuilder();
    for (TreeFrame frame : frames.subList(0, Math.min(SHOWN_STEPS, frames.size()))) {
      if (frame.array) {
        path.append('[').append(frame.items.size()).append(']');
      } else {
        path.append(path.isEmpty() ? "" : ".").append(Quoted.name(frame.name));
      }
    }
    return frames.size() > SHOWN_STEPS ? path.append('…').toString() : path.toString();
  }
}
