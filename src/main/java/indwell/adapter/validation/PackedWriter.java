package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.UTF_8;

import indwell.adapter.validation.PackedModel.Child;
import java.io.ByteArrayOutputStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;

/**
 * Packs texts, numbers and FHIR elements so that {@link PackedReader} gives them back with little
 * work: every text once, in a list at the start, and of each element what it is and its children.
 */
final class PackedWriter {
  /** In place of the type of what is a part of its parent and no data type. */
  static final String PART = "";

  private final Map<String, Integer> texts;
  private final ByteArrayOutputStream out = new ByteArrayOutputStream();

  PackedWriter() {
    this(new LinkedHashMap<>());
  }

  private PackedWriter(Map<String, Integer> texts) {
    this.texts = texts;
  }

  void text(String text) {
    number(out, placeOf(text));
  }

  /** One that is not negative. */
  void number(int number) {
    number(out, number);
  }

  /** What can be read apart from what stands before and behind it. */
  void block(Consumer<PackedWriter> content) {
    PackedWriter block = new PackedWriter(texts);
    content.accept(block);
    number(block.out.size());
    out.writeBytes(block.out.toByteArray());
  }

  /** The children of an element or a resource, all the way down. */
  <B> void children(PackedModel<B> model, B parent) {
    List<Child<B>> children = model.children().apply(parent).toList();
    number(children.size());
    for (Child<B> child : children) {
      text(child.name());
      element(model, child.element());
    }
  }

  private <B> void element(PackedModel<B> model, B element) {
    if (model.isPart(element)) {
      text(PART);
    } else {
      text(model.type().apply(element));
      String text = model.text().apply(element);
      number(text == null ? 0 : placeOf(text) + 1);
    }
    children(model, element);
  }

  byte[] bytes() {
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    number(all, texts.size());
    for (String text : texts.keySet()) {
      byte[] utf = text.getBytes(UTF_8);
      number(all, utf.length);
      all.writeBytes(utf);
    }
    all.writeBytes(out.toByteArray());
    return all.toByteArray();
  }

  private int placeOf(String text) {
    return texts.computeIfAbsent(text, added -> texts.size());
  }

  /** Seven bits a byte, the lowest first; the highest bit says that more follow. */
  private static void number(ByteArrayOutputStream out, int number) {
    int left = number;
    while (left > 0x7f) {
      out.write((left & 0x7f) | 0x80);
      left >>>= 7;
    }
    out.write(left);
  }
}
