package indwell.intake;

import com.fasterxml.jackson.databind.JsonNode;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;

/** Writes one content in one of its many spellings: order, white space, numbers, escapes. */
final class Spelling {
  private final Random random;

  Spelling(long seed) {
    random = new Random(seed);
  }

  String of(JsonNode node) {
    if (node.isObject()) {
      List<String> names = new ArrayList<>();
      node.fieldNames().forEachRemaining(names::add);
      Collections.shuffle(names, random);
      List<String> fields = new ArrayList<>();
      names.forEach(name -> fields.add(text(name) + space() + ":" + space() + of(node.get(name))));
      return "{" + space() + String.join(space() + "," + space(), fields) + space() + "}";
    }
    if (node.isTextual()) {
      return text(node.textValue());
    }
    return node.isNumber() ? number(node.decimalValue()) : node.toString();
  }

  private String text(String text) {
    StringBuilder spelt = new StringBuilder("\"");
    text.codePoints().forEach(point -> spelt.append(character(point)));
    return spelt.append('"').toString();
  }

  /** As itself or escaped; a pair of surrogates is never half escaped, which is no UTF-8. */
  private String character(int point) {
    String plain = Character.toString(point);
    boolean escape = point < ' ' || point == '"' || point == '\\' || random.nextInt(4) == 0;
    return escape
        ? plain
            .chars()
            .mapToObj(unit -> String.format("\\u%04x", unit))
            .collect(Collectors.joining())
        : plain;
  }

  private String number(BigDecimal number) {
    return switch (random.nextInt(4)) {
      case 0 -> number.toPlainString();
      case 1 -> number.setScale(Math.max(0, number.scale()) + 2).toPlainString();
      case 2 -> number.unscaledValue() + "E" + -number.scale();
      default -> number.movePointLeft(1).toPlainString() + "e+1";
    };
  }

  private String space() {
    return " \t\r\n".substring(random.nextInt(4)).substring(0, random.nextInt(2));
  }
}
