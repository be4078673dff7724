package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.util.function.Supplier;

/** Reads what {@link PackedWriter} wrote, in the same order. */
final class PackedReader {
  private final byte[] bytes;
  private final String[] texts;
  private int at;

  PackedReader(byte[] bytes) {
    this.bytes = bytes;
    this.texts = new String[number()];
    for (int i = 0; i < texts.length; i++) {
      int length = number();
      texts[i] = new String(bytes, at, length, UTF_8);
      at += length;
    }
  }

  private PackedReader(PackedReader other) {
    this.bytes = other.bytes;
    this.texts = other.texts;
    this.at = other.at;
  }

  /** Reads the block that begins here, as often as wanted; this one goes on behind it. */
  Supplier<PackedReader> block() {
    int length = number();
    PackedReader block = new PackedReader(this);
    at += length;
    return () -> new PackedReader(block);
  }

  String text() {
    return texts[number()];
  }

  int number() {
    int number = 0;
    for (int shift = 0; ; shift += 7) {
      int next = bytes[at++];
      number |= (next & 0x7f) << shift;
      if (next >= 0) {
        return number;
      }
    }
  }

  /** Gives the parent the children that come next. */
  <B, P extends B> P children(PackedModel<B> model, P parent) {
    for (int left = number(); left > 0; left--) {
      String name = text();
      String type = text();
      if (type.equals(PackedWriter.PART)) {
        var unused = children(model, model.part().apply(parent, name));
      } else {
        model.set().give(parent, name, element(model, type));
      }
    }
    return parent;
  }

  private <B> B element(PackedModel<B> model, String type) {
    B element = model.create().apply(type);
    int text = number();
    if (text > 0) {
      element = model.value().apply(element, texts[text - 1]);
    }
    return children(model, element);
  }
}
