package indwell.intake;

import indwell.domain.event.EventType;
import java.math.BigDecimal;
import java.util.Map;
import java.util.TreeMap;

/**
 * The one text of an event's content: defaults filled in, names in order, numbers by value, no
 * white space; texts, times among them, as they were sent.
 */
final class CanonicalText {
  private CanonicalText() {}

  /** The text of an event in which the reader found no fault. */
  static String of(Map<?, ?> tree, EventType type) {
    Map<String, Object> event = sorted(tree);
    event.putIfAbsent("version", BigDecimal.ONE);
    event.putIfAbsent("status", EventStatus.FINAL.code());
    event.put("details", details(event.getOrDefault("details", Map.of()), type));
    StringBuilder text = new StringBuilder(512);
    write(event, text);
    return text.toString();
  }

  /** A checked text between quotation marks. */
  static String quoted(String text) {
    StringBuilder quoted = new StringBuilder(text.length() + 2);
    writeString(text, quoted);
    return quoted.toString();
  }

  private static Map<String, Object> details(Object sent, EventType type) {
    Map<String, Object> details = sorted((Map<?, ?>) sent);
    switch (type) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> details.putIfAbsent("inpatient", true);
      case CATHETER_INSERTED -> details.putIfAbsent("drainage", "bag");
      case CATHETER_EXCHANGED ->
          details.computeIfPresent(
              "replacement",
              (name, replacement) -> details(replacement, EventType.CATHETER_INSERTED));
      default -> {
        // No other type has a field with a default.
      }
    }
    return details;
  }

  private static Map<String, Object> sorted(Map<?, ?> fields) {
    Map<String, Object> sorted = new TreeMap<>();
    fields.forEach((name, value) -> sorted.put((String) name, value));
    return sorted;
  }

  /** Recursion is safe: a checked event is four objects deep at most. */
  private static void write(Object value, StringBuilder text) {
    if (value instanceof Map<?, ?> fields) {
      writeObject(sorted(fields), text);
    } else if (value instanceof String string) {
      writeString(string, text);
    } else if (value instanceof BigDecimal number) {
      text.append(number.toPlainString());
    } else {
      text.append(value);
    }
  }

  private static void writeObject(Map<String, Object> fields, StringBuilder text) {
    char before = '{';
    for (Map.Entry<String, Object> field : fields.entrySet()) {
      text.append(before);
      writeString(field.getKey(), text);
      text.append(':');
      write(field.getValue(), text);
      before = ',';
    }
    text.append(fields.isEmpty() ? "{}" : "}");
  }

  /** A checked text has no control characters, so that only two characters need an escape. */
  private static void writeString(String string, StringBuilder text) {
    text.append('"');
    for (int i = 0; i < string.length(); i++) {
      char c = string.charAt(i);
      if (c == '"' || c == '\\') {
        text.append('\\');
      }
      text.append(c);
    }
    text.append('"');
  }
}
