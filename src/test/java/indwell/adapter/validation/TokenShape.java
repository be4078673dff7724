package indwell.adapter.validation;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;

/**
 * The shape of a JSON text by the tokens of a library, which know nothing of how it is written:
 * each token with its decoded value, leaves by what counts of them. A text has one if it is what
 * the library writes of those tokens.
 */
final class TokenShape {
  private static final JsonFactory JSON =
      JsonFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();
  private static final Set<String> TIMES =
      Set.of(
          "effectiveDateTime",
          "performedDateTime",
          "occurredDateTime",
          "collectedDateTime",
          "valueDateTime",
          "recorded",
          "start",
          "end",
          "lastUpdated");
  private static final int DEEPEST = 32;

  /**
   * An object or array.
   *
   * @param of the member that it is, or whose array it stands in
   */
  private static final class Level {
    final String of;
    String system = "";
    String member;

    Level(String of) {
      this.of = of;
      this.member = of;
    }
  }

  private final List<String> tokens = new ArrayList<>();
  private final Deque<Level> levels = new ArrayDeque<>();
  private final List<String> names = new ArrayList<>();
  private final List<Long> times = new ArrayList<>();
  private boolean ours = true;

  private TokenShape() {}

  /** Empty when the text is not as our writer writes it. */
  static Optional<List<String>> of(String json) {
    StringWriter again = new StringWriter();
    TokenShape shape = new TokenShape();
    try (JsonParser parser = JSON.createParser(json);
        JsonGenerator writer = JSON.createGenerator(again)) {
      JsonToken last = null;
      for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
        if (shape.levels.isEmpty() && token != JsonToken.START_OBJECT) {
          return Optional.empty();
        }
        shape.ours &= last == null || !isEmpty(last, token);
        shape.add(token, parser.getText());
        write(token, parser, writer);
        last = token;
      }
    } catch (IOException unreadable) {
      return Optional.empty();
    }
    boolean same = json.equals(again.toString()) && !json.isEmpty();
    boolean encodable = StandardCharsets.UTF_8.newEncoder().canEncode(json);
    return shape.ours && same && encodable ? Optional.of(shape.finished()) : Optional.empty();
  }

  private static boolean isEmpty(JsonToken last, JsonToken token) {
    return last.isStructStart() && token.isStructEnd();
  }

  private static void write(JsonToken token, JsonParser parser, JsonGenerator writer)
      throws IOException {
    if (token == JsonToken.VALUE_NUMBER_FLOAT || token == JsonToken.VALUE_NUMBER_INT) {
      writer.writeNumber(parser.getText());
    } else {
      writer.copyCurrentEvent(parser);
    }
  }

  private void add(JsonToken token, String value) {
    switch (token) {
      case START_OBJECT, START_ARRAY -> {
        tokens.add(token.name());
        levels.push(new Level(levels.isEmpty() ? "" : member()));
        ours &= levels.size() <= DEEPEST;
      }
      case END_OBJECT, END_ARRAY -> {
        tokens.add(token.name());
        levels.pop();
      }
      case FIELD_NAME -> {
        ours &= value.matches("[A-Za-z0-9_]+");
        levels.element().member = value;
        tokens.add("member " + value);
      }
      case VALUE_STRING -> {
        if (member().equals("system")) {
          levels.element().system = value;
        }
        String leaf = leaf(value);
        tokens.add(leaf == null ? "text " + value : leaf);
      }
      case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> {
        boolean amount = member().equals("value") && levels.element().of.equals("valueQuantity");
        Optional<String> form = amount ? Leaf.number(value) : Optional.empty();
        tokens.add(form.map(one -> "amount " + one).orElse(token + " " + value));
      }
      default -> tokens.add(token + " " + value);
    }
  }

  private String member() {
    return levels.element().member;
  }

  private @Nullable String leaf(String value) {
    if (TIMES.contains(member()) && LeafTime.nanos(value).isPresent()) {
      times.add(LeafTime.nanos(value).getAsLong());
      return "time " + Leaf.form(value);
    }
    String of = levels.element().of;
    boolean identifier = List.of("identifier", "valueIdentifier").contains(of);
    return switch (member()) {
      case "id" -> levels.size() == 1 && Leaf.isId(value) ? "id " + number(value) : null;
      case "versionId" -> of.equals("meta") && Leaf.isId(value) ? "version" : null;
      case "value" ->
          identifier && Leaf.isIdentifierValue(levels.element().system, value)
              ? "name " + number(value)
              : null;
      case "reference" ->
          LeafReference.of(value)
              .map(one -> "to " + one.type() + " " + number(one.id()) + " " + one.versioned())
              .orElse(null);
      default -> null;
    };
  }

  private int number(String name) {
    if (!names.contains(name)) {
      names.add(name);
    }
    return names.indexOf(name);
  }

  private List<String> finished() {
    List<Long> ascending = List.copyOf(new TreeSet<>(times));
    times.forEach(time -> tokens.add("at " + ascending.indexOf(time)));
    return tokens;
  }
}
