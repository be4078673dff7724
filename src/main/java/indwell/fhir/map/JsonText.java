package indwell.fhir.map;

import java.math.BigDecimal;
import org.hl7.fhir.r4.formats.JsonCreator;
import org.jspecify.annotations.Nullable;

/**
 * Takes what the composer of the model's library says and writes it down as compact JSON (RFC
 * 8259). Of texts only what must be is escaped.
 */
final class JsonText implements JsonCreator {
  /** Characters of a resource, mostly. */
  private static final int USUAL = 1_800;

  private static final String HEX = "0123456789ABCDEF";

  private final StringBuilder text = new StringBuilder(USUAL);

  /** Whether what comes next stands behind another member or element. */
  private boolean another;

  @Override
  public void beginObject() {
    begin('{');
  }

  @Override
  public void endObject() {
    end('}');
  }

  @Override
  public void beginArray() {
    begin('[');
  }

  @Override
  public void endArray() {
    end(']');
  }

  private void begin(char bracket) {
    separate();
    text.append(bracket);
    another = false;
  }

  private void end(char bracket) {
    text.append(bracket);
    another = true;
  }

  private void separate() {
    if (another) {
      text.append(',');
    }
    another = true;
  }

  /** Names of elements have nothing to escape. */
  @Override
  public void name(String name) {
    separate();
    text.append('"').append(name).append("\":");
    another = false;
  }

  @Override
  public void value(@Nullable String value) {
    if (value == null) {
      nullValue();
    } else {
      separate();
      text.append('"');
      escaped(value);
      text.append('"');
    }
  }

  @Override
  public void nullValue() {
    separate();
    text.append("null");
  }

  @Override
  public void value(@Nullable Boolean value) {
    plain(value);
  }

  @Override
  public void value(@Nullable BigDecimal value) {
    plain(value);
  }

  @Override
  public void value(@Nullable Integer value) {
    plain(value);
  }

  @Override
  public void valueNum(@Nullable String value) {
    plain(value);
  }

  private void plain(@Nullable Object value) {
    separate();
    text.append(value);
  }

  private void escaped(String value) {
    int written = 0;
    for (int i = 0; i < value.length(); i++) {
      char c = value.charAt(i);
      if (c < ' ' || c == '"' || c == '\\') {
        text.append(value, written, i);
        escaped(c);
        written = i + 1;
      }
    }
    text.append(value, written, value.length());
  }

  private void escaped(char c) {
    switch (c) {
      case '"', '\\' -> text.append('\\').append(c);
      case '\b' -> text.append("\\b");
      case '\t' -> text.append("\\t");
      case '\n' -> text.append("\\n");
      case '\f' -> text.append("\\f");
      case '\r' -> text.append("\\r");
      default -> text.append("\\u00").append(HEX.charAt(c >> 4)).append(HEX.charAt(c & 15));
    }
  }

  /** Compact whatever is asked. */
  @Override
  public void setIndent(String indent) {}

  /** Links are of no use to JSON. */
  @Override
  public void link(String address) {}

  @Override
  public void finish() {}

  @Override
  public String toString() {
    return text.toString();
  }
}
