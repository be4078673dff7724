package indwell.intake;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/** Builds the tree of one body from its tokens, on a stack of its own instead of by recursion. */
final class TreeBuilder {
  private final GateLimits limits;
  private final Optional<Consumer<JsonGate.Element>> elements;
  private final FindingLog log = new FindingLog();
  private final List<TreeFrame> open = new ArrayList<>();
  private Optional<Object> root = Optional.empty();
  private boolean rootIsArray;
  private boolean tooDeepFound;
  private int elementCount;
  private long elementStart;

  /** Containers open inside an element that is too large; its content is passed over. */
  private int passedOver;

  TreeBuilder(GateLimits limits, Optional<Consumer<JsonGate.Element>> elements) {
    this.limits = limits;
    this.elements = elements;
  }

  /** Whether the outermost value has ended. */
  boolean complete() {
    return root.isPresent();
  }

  GateResult result() {
    return new GateResult.Tree(root.orElseThrow(), log.drain());
  }

  /** Takes the next token; a result means that reading stops here. */
  Optional<GateResult> take(JsonToken token, JsonParser parser) throws IOException {
    if (passedOver > 0) {
      return passOver(token);
    }
    Optional<GateResult> stopped = startElement(token, parser);
    if (stopped.isPresent() || outgrown(token, parser)) {
      return stopped;
    }
    switch (token) {
      case START_OBJECT, START_ARRAY -> {
        return open(token == JsonToken.START_ARRAY);
      }
      case END_OBJECT, END_ARRAY -> close();
      case FIELD_NAME -> name(parser.currentName());
      case VALUE_STRING -> place(string(parser));
      case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> place(number(parser.getText()));
      case VALUE_TRUE -> place(true);
      case VALUE_FALSE -> place(false);
      default -> place(JsonMarker.NULL);
    }
    return Optional.empty();
  }

  private Optional<GateResult> open(boolean array) {
    int depth = open.size() + 1;
    if (depth > limits.stopDepth()) {
      return tooDeep();
    }
    if (depth > limits.maxDepth() && !tooDeepFound) {
      tooDeepFound = true;
      log.add(IssueCode.NESTED_TOO_DEEP, path(), deeperThan(limits.maxDepth()));
    }
    rootIsArray |= depth == 1 && array;
    open.add(new TreeFrame(array));
    return Optional.empty();
  }

  private Optional<GateResult> tooDeep() {
    return Optional.of(
        new GateResult.Stopped(IssueCode.NESTED_TOO_DEEP, deeperThan(limits.stopDepth())));
  }

  private static String deeperThan(int most) {
    return "The text is nested too deep; expected at most " + most + " levels.";
  }

  private void close() {
    boolean kept = open.size() <= limits.maxDepth();
    Object container = open.remove(open.size() - 1).container();
    place(kept ? container : JsonMarker.TOO_DEEP);
  }

  private void name(String name) {
    if (name.length() > limits.maxNameLength()) {
      log.add(
          IssueCode.TOO_LARGE, path(), longerThan("name", name.length(), limits.maxNameLength()));
    }
    if (limits.asFhir()) {
      FhirText.lookAt(name, log, this::path);
      FhirText.lookAtContained(name, open.stream().map(TreeFrame::name), log, this::path);
    }
    if (!top().expect(name) && !log.full()) {
      log.add(
          IssueCode.DUPLICATE_NAME,
          path(),
          "Name " + Quoted.text(name) + " stands more than once in its object; expected it once.");
    }
  }

  private Object string(JsonParser parser) throws IOException {
    int length = parser.getTextLength();
    if (length <= limits.maxStringLength()) {
      String text = parser.getText();
      if (limits.asFhir()) {
        FhirText.lookAt(text, log, this::path);
      }
      return text;
    }
    log.add(IssueCode.TOO_LARGE, path(), longerThan("string", length, limits.maxStringLength()));
    return JsonMarker.TOO_LARGE;
  }

  private static String longerThan(String what, int length, int most) {
    return "The " + what + " has " + length + " characters; expected at most " + most + ".";
  }

  private Object number(String text) {
    if (!NumberText.isAbsurd(text)) {
      return normalised(new BigDecimal(text));
    }
    if (!log.full()) {
      log.add(
          IssueCode.ABSURD_NUMBER,
          path(),
          "Number %s is beyond reading; expected at most %d digits and an exponent within ±%d."
              .formatted(Quoted.name(text), NumberText.MAX_DIGITS, NumberText.MAX_EXPONENT));
    }
    return JsonMarker.ABSURD_NUMBER;
  }

  /** Equal numbers become equal objects: no trailing zeros, no negative scale. */
  private static BigDecimal normalised(BigDecimal number) {
    BigDecimal stripped = number.stripTrailingZeros();
    return stripped.scale() < 0 ? stripped.setScale(0) : stripped;
  }

  private void place(Object value) {
    if (open.isEmpty()) {
      root = Optional.of(value);
    } else if (rootIsArray && open.size() == 1) {
      endElement(value);
    } else {
      top().add(value);
    }
  }

  private Optional<GateResult> startElement(JsonToken token, JsonParser parser) {
    if (!atElement() || token == JsonToken.END_ARRAY) {
      return Optional.empty();
    }
    elementStart = parser.currentTokenLocation().getByteOffset();
    elementCount++;
    return elementCount <= limits.maxElements()
        ? Optional.empty()
        : Optional.of(
            new GateResult.Stopped(
                IssueCode.TOO_MANY_EVENTS,
                "The array has more than "
                    + limits.maxElements()
                    + " elements; expected at most "
                    + limits.maxElements()
                    + "."));
  }

  private void endElement(Object value) {
    tooDeepFound = false;
    if (elements.isPresent()) {
      elements.get().accept(new JsonGate.Element(value, log.drain()));
    } else {
      top().add(value);
    }
  }

  private boolean atElement() {
    return rootIsArray && open.size() == 1;
  }

  /** Drops an element that has outgrown its limit; only its brackets are followed from here on. */
  private boolean outgrown(JsonToken token, JsonParser parser) {
    boolean insideElement = rootIsArray && !(atElement() && token == JsonToken.END_ARRAY);
    if (!insideElement || elementBytes(parser) <= limits.maxElementBytes()) {
      return false;
    }
    passedOver = open.size() - 1;
    open.subList(1, open.size()).clear();
    log.add(
        IssueCode.TOO_LARGE,
        "",
        "The event is larger than %d bytes; expected at most that."
            .formatted(limits.maxElementBytes()));
    follow(token);
    return true;
  }

  private long elementBytes(JsonParser parser) {
    return parser.currentLocation().getByteOffset() - elementStart;
  }

  private Optional<GateResult> passOver(JsonToken token) {
    if (token.isStructStart() && passedOver + 2 > limits.stopDepth()) {
      return tooDeep();
    }
    follow(token);
    return Optional.empty();
  }

  private void follow(JsonToken token) {
    passedOver += token.isStructStart() ? 1 : token.isStructEnd() ? -1 : 0;
    if (passedOver == 0) {
      endElement(JsonMarker.TOO_LARGE);
    }
  }

  private TreeFrame top() {
    return open.get(open.size() - 1);
  }

  private String path() {
    List<TreeFrame> inside = rootIsArray && !open.isEmpty() ? open.subList(1, open.size()) : open;
    return TreeFrame.path(inside);
  }
}
