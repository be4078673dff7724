package indwell.adapter.validation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Copies of a resource with one thing changed: some as another resource of the mapper could have
 * it, some broken. The same seed gives the same copies.
 */
public final class Mutants {
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private static final List<String> TEXTS =
      List.of(
          "",
          " ",
          "x y",
          "urn:x",
          "entered-in-error",
          "unknown",
          "2026-02-30T10:00:00Z",
          "2026-02-28T10:00:00Z",
          "2026-02-28",
          "2026-02-28T10:00:00+14:30",
          "1999-12-31T23:59:59Z",
          "2099-01-01T00:00:00.000-11:00",
          "2026-03-29T02:30:00.123456+01:00",
          "Patient/x",
          "Device/other",
          "Location/",
          "#contained",
          "http://unitsofmeasure.org",
          "https://elsewhere.example/fhir/Device/9",
          "mL",
          "source:e-77#rate",
          "<b>x</b>",
          "tab\there",
          "é");

  private static final List<BigDecimal> NUMBERS =
      List.of(
          BigDecimal.ZERO,
          BigDecimal.ONE,
          new BigDecimal("-1"),
          new BigDecimal("0.5"),
          new BigDecimal("7.25"),
          new BigDecimal("0.00"),
          new BigDecimal("123456789"),
          new BigDecimal("12345678901234567890"),
          new BigDecimal("1E-12"));

  private final Random random;

  public Mutants(long seed) {
    this.random = new Random(seed);
  }

  /** A copy with one change somewhere. */
  public byte[] of(byte[] json) {
    try {
      ObjectNode copy = (ObjectNode) Cases.JSON.readTree(json);
      change(copy);
      return Cases.JSON.writeValueAsBytes(copy);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void change(ObjectNode resource) {
    List<ObjectNode> objects = new ArrayList<>();
    collect(resource, objects);
    ObjectNode object = objects.get(random.nextInt(objects.size()));
    List<String> members = new ArrayList<>();
    object.fieldNames().forEachRemaining(members::add);
    String member = members.get(random.nextInt(members.size()));
    if (member.equals("resourceType")) {
      return;
    }
    JsonNode value = object.get(member);
    int kind = random.nextInt(10);
    if (kind == 0) {
      object.remove(member);
    } else if (kind == 1 && value instanceof ArrayNode array && !array.isEmpty()) {
      array.add(array.get(0).deepCopy());
    } else if (kind == 2) {
      object.put("whisker", "long");
    } else {
      object.set(member, other(value));
    }
  }

  private JsonNode other(JsonNode value) {
    if (value.isTextual()) {
      return NODES.textNode(text(value.asText()));
    }
    if (value.isNumber()) {
      return NODES.numberNode(NUMBERS.get(random.nextInt(NUMBERS.size())));
    }
    return value.isBoolean() ? NODES.booleanNode(!value.asBoolean()) : value;
  }

  private String text(String was) {
    if (was.isEmpty()) {
      return "x";
    }
    return switch (random.nextInt(4)) {
      case 0 -> TEXTS.get(random.nextInt(TEXTS.size()));
      case 1 -> replaced(was, "0123456789".charAt(random.nextInt(10)));
      case 2 -> replaced(was, (char) ('a' + random.nextInt(26)));
      default -> was + "x";
    };
  }

  private String replaced(String was, char by) {
    int at = random.nextInt(was.length());
    return was.substring(0, at) + by + was.substring(at + 1);
  }

  private static void collect(JsonNode node, List<ObjectNode> objects) {
    if (node instanceof ObjectNode object) {
      objects.add(object);
    }
    node.forEach(child -> collect(child, objects));
  }
}
